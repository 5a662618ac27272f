import { addBoard } from "../api/boards.js";
import { openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { attempt } from "../elements/slips.js";

/** Trim sizes in mm: ISO 216, JIS P 0138 and the US comic page. */
const FORMATS = {
  a5: ["A5, 148 × 210 mm", 148, 210, 3, 8],
  a4: ["A4, 210 × 297 mm", 210, 297, 3, 8],
  "jis-b5": ["JIS B5, 182 × 257 mm", 182, 257, 3, 8],
  "us-comic": ["US comic page, 168.3 × 260.4 mm", 168.275, 260.35, 3.175, 9.525],
};

document.getElementById("new-board")?.addEventListener("click", () => openDialog("A new board", newBoard));

function newBoard(close) {
  return form({}, (values) => make(values, close),
    field("Title of the comic", h("input", { name: "title", required: true, maxlength: "200", autofocus: true })),
    h("div", { class: "pair" },
      field("Printed page", choice(Object.entries(FORMATS).map(([key, [words]]) => [key, words]), "a5", { name: "format" }),
        "Trim size. Another one can be set later."),
      field("It is read", choice([["ltr", "left to right"], ["rtl", "right to left"]], "ltr", { name: "reading" }))),
    h("p", { class: "hint" }, "You will be its artist and its editor; give seats to others on its Wall."),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Make the board")));
}

async function make({ title, format, reading }, close) {
  const [, trim_width_mm, trim_height_mm, bleed_mm, safe_mm] = FORMATS[format];
  const board = await attempt(() => addBoard({ title, reading, trim_width_mm, trim_height_mm, bleed_mm, safe_mm }));
  if (!board) return;
  close();
  location.assign(`/boards/${board.id}`);
}
