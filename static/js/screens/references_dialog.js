import { referencesOf, removeReference } from "../api/boards.js";
import { upload } from "../api/upload.js";
import { openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { h, swap, word } from "../elements/h.js";
import { renditionFor } from "../elements/picture_part.js";
import { attempt } from "../elements/slips.js";
import { shownBy, stillCameraDialog } from "./still_camera_dialog.js";

const KINDS = [["still", "still of a set"], ["background", "old background"], ["pose", "pose"], ["prop", "prop"]];
const WORD_FOR = new Map([...KINDS, ["model-sheet", "model sheet"]]);

/** The pictures that panels are drawn from. */
export function referencesDialog({ known }) {
  openDialog("References", () => {
    const list = h("ul", { class: "reference-list" });
    const show = async () => {
      const references = await attempt(() => referencesOf(known.board.id));
      if (!references) return;
      swap(list, ...(references.length ? references.map((one) => referenceRow(one, known.may, show)) : [teach()]));
      if (references.some((one) => one.state === "received")) setTimeout(show, 800);
    };
    show();
    return [list, known.may.add_references ? newReference(known.board.id, show) : null];
  }, { isWide: true });
}

const teach = () => h("li", { class: "quiet" }, "No references yet. A still of the set, tied to a panel on the Desk, shows beside it what the drawing should agree with.");

function referenceRow(one, may, show) {
  const rendition = renditionFor(one.renditions, 300);
  return h("li", { class: "reference" },
    rendition
      ? h("img", { src: rendition.url, width: rendition.width_px, height: rendition.height_px, alt: one.title, loading: "lazy" })
      : h("span", { class: "quiet" }, one.state === "refused" ? one.reason : "being read …"),
    h("span", {}, one.title),
    h("span", { class: "quiet small" }, WORD_FOR.get(one.kind) ?? one.kind),
    one.kind === "still" && one.state === "ready" && h("span", { class: "quiet small" }, shownBy(one)),
    one.kind === "still" && one.state === "ready" && may.run_board && word("Camera", () => stillCameraDialog(one, show), { "aria-label": `Camera of ${one.title}` }),
    may.draw && word("Remove", () => attempt(() => removeReference(one.id)).then(show), { "aria-label": `Remove ${one.title}` }));
}

function newReference(board, show) {
  const element = form({}, async ({ title, kind }) => {
    const [image] = element.querySelector("[type=file]").files;
    const sent = await attempt(() => upload(`/boards/${board}/references`, { image, title, kind }), { done: `${title} is uploaded.` });
    if (!sent) return;
    element.reset();
    show();
  },
    h("h3", {}, "Add a reference"),
    h("div", { class: "pair" },
      field("Picture", h("input", { type: "file", accept: "image/*", required: true })),
      field("Title", h("input", { name: "title", required: true, maxlength: "200" })),
      field("Kind", choice(KINDS, "still", { name: "kind" }))),
    h("div", { class: "buttons" }, h("button", { class: "button" }, "Add it")));
  return element;
}
