import { askReviewSheet, readReviewSheet } from "../api/review_sheets.js";
import { openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { h, swap } from "../elements/h.js";
import { attempt } from "../elements/slips.js";

const AGAIN_MS = 700;
const NOTES = [["open", "those that wait for somebody"], ["all", "all, settled ones too"]];

/** What can be taken along from a board: its review sheet, the to-do list, and the notes for other programs. */
export function paperDialog(board) {
  openDialog("To take along", (_, dialog) => {
    const made = h("div", { role: "status" });
    return form({}, ({ notes }) => make(board, notes, made, dialog),
      h("h3", {}, "Review sheet"),
      h("p", { class: "hint" }, "Each page with its panels, notes, figures and evidence, as you see them here."),
      field("Notes", choice(NOTES, "open", { name: "notes", "data-look-only": "" })),
      h("div", { class: "buttons" }, h("button", { class: "button first" }, "Make the PDF")), made,
      h("h3", {}, "To-do list"),
      h("p", {}, h("a", { href: `/boards/${board.id}/to-do` }, "By page and panel"), ". Printed, each note has a box to tick."),
      h("h3", {}, "The drawings"),
      h("p", {}, h("a", { href: `/api/v1/boards/${board.id}/drawings`, download: "" }, "All pages as they stand"), ", in order, each file as it was uploaded (zip), with the script."),
      h("p", { class: "hint" }, "A file holds what a camera or a program wrote into it, perhaps a name, or where it was photographed. A page laid flat comes without its photograph."),
      h("h3", {}, "For other programs"),
      h("p", {}, h("a", { href: `/api/v1/boards/${board.id}/annotations`, download: "notes.jsonld" }, "Notes as W3C Web Annotations"), " (JSON-LD), with their regions and replies."));
  });
}

async function make(board, notes, made, dialog) {
  swap(made, h("p", {}, "The sheets are being set …"));
  let sheet = await attempt(() => askReviewSheet(board.id, notes));
  while (sheet?.state === "queued" && dialog.open) {
    await new Promise((resolve) => setTimeout(resolve, AGAIN_MS));
    sheet = await attempt(() => readReviewSheet(sheet.id));
  }
  if (!sheet) return swap(made);
  if (sheet.state === "failed") return swap(made, h("p", { class: "fault" }, sheet.reason));
  swap(made, h("p", {}, h("a", { class: "button", href: sheet.file, download: "" }, "Save the PDF")));
}
