import { cutSheet, readSheet } from "../api/boards.js";
import { upload } from "../api/upload.js";
import { openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { picturePart, renditionFor } from "../elements/picture_part.js";
import { attempt } from "../elements/slips.js";
import { count } from "../elements/words.js";

const LOOK_AGAIN_MS = 500;

/** One picture that holds several thumbnails: uploaded, looked at, cut into pages. */
export function sheetDialog(state, reload) {
  openDialog("Cut a sheet of thumbnails into pages", (close, dialog) => {
    const bar = h("progress", { max: "1", value: 0, hidden: true, "aria-label": "Upload" });
    const element = form({}, async () => {
      const [image] = element.querySelector("[type=file]").files;
      bar.hidden = false;
      const sheet = await attempt(() => upload(`/boards/${state.known.board.id}/sheets`, { image }, { onProgress: (part) => { bar.value = part; } }));
      if (sheet) showParts(await whenRead(sheet), state, { close, reload, body: dialog.querySelector(".dialog-body") });
      bar.hidden = true;
    },
      h("p", {}, "One picture with several thumbnails on it. The thumbnails are looked for; you say which is which page."),
      field("Sheet", h("input", { type: "file", accept: "image/*", required: true })), bar,
      h("div", { class: "buttons" }, h("button", { class: "button first" }, "Upload the sheet")));
    return element;
  }, { isWide: true });
}

async function whenRead(sheet) {
  let now = sheet;
  while (now.state === "received" || (now.state === "ready" && !now.renditions.length)) {
    await new Promise((resolve) => setTimeout(resolve, LOOK_AGAIN_MS));
    now = await readSheet(sheet.id);
  }
  return now;
}

function showParts(sheet, state, { close, reload, body }) {
  if (sheet.state === "refused" || !sheet.found.length) {
    body.replaceChildren(h("p", { class: "fault" }, sheet.reason || "No thumbnail was found. Draw a frame around each, or upload the pages one by one."));
    return;
  }
  const pages = state.known.pages ?? [];
  const rendition = renditionFor(sheet.renditions, 1200);
  const options = [["", "leave it out"], ...pages.map((page) => [page.id, `page ${page.numbers.join("-")}`])];
  const empty = pages.filter((page) => !page.current_revision);
  const element = form({}, async (values) => {
    const cuts = sheet.found.map((one, i) => ({ polygon: one.polygon, page: Number(values[`part-${i}`]) })).filter((cut) => cut.page);
    if (!cuts.length) return;
    if (!(await attempt(() => cutSheet(sheet.id, cuts), { done: `${count(cuts.length, "thumbnail")} on the way to the Wall.` }))) return;
    close();
    reload();
  },
    h("p", {}, `${count(sheet.found.length, "thumbnail")} found. Say which is which page; pages have to be on the Wall first.`),
    h("ol", { class: "sheet-parts" }, sheet.found.map((one, i) => h("li", {},
      picturePart(rendition, one.polygon, { class: "sheet-part" }),
      field(`Part ${i + 1}`, choice(options, empty[i]?.id ?? "", { name: `part-${i}` }))))),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Cut it")));
  body.replaceChildren(element);
}
