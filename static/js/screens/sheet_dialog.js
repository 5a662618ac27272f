import { readSheet } from "../api/boards.js";
import { upload } from "../api/upload.js";
import { askBeforeLeaving } from "../elements/ask_before_leaving.js";
import { openDialog } from "../elements/dialog.js";
import { field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { attempt } from "../elements/slips.js";
import { TYPES } from "../uploads/types.js";
import { sheetCut } from "./sheet_cut.js";

const LOOK_AGAIN_MS = 500;

/** One picture that holds several thumbnails: uploaded, looked at, corrected, cut into pages. */
export function sheetDialog(state, reload) {
  openDialog("Cut a sheet of thumbnails into pages", (close, dialog) => {
    const bar = h("progress", { max: "1", value: 0, hidden: true, "aria-label": "Upload" });
    const words = h("p", { role: "status" });
    const element = form({}, async () => {
      const [image] = element.querySelector("[type=file]").files;
      bar.hidden = false;
      element.querySelector(".first").disabled = true;
      const sent = await attempt(() => upload(`/boards/${state.known.board.id}/sheets`, { image }, { onProgress: (part) => { bar.value = part; } }));
      bar.hidden = true;
      if (sent) words.textContent = "Looking for the thumbnails …";
      const sheet = sent && await attempt(() => whenRead(sent, dialog));
      element.querySelector(".first").disabled = false;
      words.textContent = sheet?.state === "refused" ? sheet.reason : "";
      words.className = sheet?.state === "refused" ? "fault" : "";
      if (sheet?.state !== "ready") return;
      dialog.querySelector(".dialog-body").replaceChildren(sheetCut(sheet, state.known, { close, reload }));
      // Until it is cut it stands nowhere else.
      dialog.addEventListener("close", askBeforeLeaving(() => true));
    },
      h("p", {}, "One picture with several thumbnails on it. They are looked for; you correct what was found, and say which is which page."),
      field("Sheet", h("input", { type: "file", accept: TYPES, required: true })), bar, words,
      h("div", { class: "buttons" }, h("button", { class: "button first" }, "Upload the sheet")));
    return element;
  }, { isWide: true });
}

async function whenRead(sheet, dialog) {
  let now = sheet;
  while (dialog.open && (now.state === "received" || (now.state === "ready" && !now.renditions.length))) {
    await new Promise((resolve) => setTimeout(resolve, LOOK_AGAIN_MS));
    now = await readSheet(sheet.id);
  }
  return now;
}
