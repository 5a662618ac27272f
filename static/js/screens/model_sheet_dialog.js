import { addSheet, changeSheet, removeSheet } from "../api/figures.js";
import { upload } from "../api/upload.js";
import { askFirst, openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { h, swap, word } from "../elements/h.js";
import { renditionFor } from "../elements/picture_part.js";
import { attempt } from "../elements/slips.js";
import { heightInput } from "./character_dialog.js";
import { sheetMarks } from "./sheet_marks.js";

const VIEWS = [["front", "front"], ["side", "side"], ["back", "back"], ["head", "head"]];
const AGAIN_MS = 700;

/** The pictures of one character, and the landmarks that are marked once on each. */
export function modelSheetDialog({ known }, character, reload) {
  openDialog(`Model sheets of ${character.name}`, (close, dialog) => {
    const place = h("div", {});
    const mark = (sheet) => swap(place, markForm(sheet, () => { close(); reload(); }));
    const list = h("div", {});
    const show = (sheets) => swap(list, sheets.length ? h("ul", { class: "rows" }, sheets.map(row)) : h("p", { class: "quiet" }, "No sheet yet. Add a picture of the whole figure; crown, chin and soles marked on it tell its head count."));
    const row = (sheet) => h("li", {}, `${sheet.view}, from page ${sheet.from_page}${sheet.height_m ? ` ${sheet.height_m} m tall` : ""}: ${sheet.reference.title} `,
      word("Mark it", () => mark(sheet), { "aria-label": `Mark ${sheet.reference.title}, ${sheet.view}` }), " ",
      word("Remove", () => remove(sheet), { "aria-label": `Remove ${sheet.reference.title}, ${sheet.view}` }));
    const remove = (sheet) => askFirst(`Remove ${sheet.reference.title}?`, "What is marked on it goes too, and figures are held against the sheets that are left. The picture stays among the references.",
      "Remove it", () => attempt(() => removeSheet(sheet)).then(() => { close(); reload(); }));
    const added = [...character.sheets];
    const take = (sheet) => {
      added.push(sheet);
      show(added);
      mark(sheet);
    };
    show(added);
    return [list, place, newSheet(known.board.id, character, take, dialog)];
  }, { isWide: true });
}

function newSheet(board, character, take, dialog) {
  let reference = null; // kept until its sheet is there, so that pressing again does not add the picture again
  const element = form({}, async ({ view, from_page: page }) => {
    const [image] = element.querySelector("[type=file]").files;
    const title = `${character.name}, ${view}`;
    reference ??= await attempt(() => upload(`/boards/${board}/references`, { image, title, kind: "model-sheet" }));
    let sheet = reference && await attempt(() => addSheet(character, { reference: reference.id, view, from_page: Number(page) }));
    while (sheet?.reference.state === "received" && dialog.open) {
      await new Promise((resolve) => setTimeout(resolve, AGAIN_MS));
      sheet = await attempt(() => changeSheet(sheet, {}));
    }
    if (!sheet) return;
    reference = null;
    element.reset();
    take(sheet);
  },
    h("h3", {}, "Add a sheet"),
    h("div", { class: "pair" },
      field("Picture", h("input", { type: "file", accept: "image/*", required: true, onchange: () => { reference = null; } })),
      field("Seen from", choice(VIEWS, "front", { name: "view" })),
      field("Holds from page", h("input", { name: "from_page", type: "number", min: "1", required: true, value: "1", inputmode: "numeric" }))),
    h("div", { class: "buttons" }, h("button", { class: "button" }, "Add it")));
  return element;
}

function markForm(sheet, done) {
  const rendition = renditionFor(sheet.reference.renditions, 1200);
  if (!rendition) return h("p", { class: "quiet" }, sheet.reference.reason || "This picture is still being read.");
  const marks = sheetMarks(rendition, sheet.landmarks);
  const height = heightInput(sheet.height_m);
  return form({}, async () => {
    const fields = { landmarks: marks.landmarks(), height_m: height.value === "" ? null : Number(height.value) };
    if (await attempt(() => changeSheet(sheet, fields), { done: "The sheet is kept." })) done();
  },
    marks.element,
    sheet.from_page > 1 && field(`Height from page ${sheet.from_page} on, m`, height, "For who has grown by then. Empty: as tall as before."),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, sheet.from_page > 1 ? "Keep landmarks and height" : "Keep these landmarks")));
}
