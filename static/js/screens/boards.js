import { addBoard } from "../api/boards.js";
import { openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { localTimes } from "../elements/local_times.js";
import { attempt } from "../elements/slips.js";
import { formatChoice, formatFields } from "../elements/trim_sizes.js";

localTimes();
document.getElementById("new-board")?.addEventListener("click", () => openDialog("A new board", newBoard));

function newBoard(close) {
  return form({}, (values) => make(values, close),
    field("Title of the comic", h("input", { name: "title", required: true, maxlength: "200", autofocus: true })),
    h("div", { class: "pair" },
      field("Printed page", formatChoice(),
        "Trim size. Another one can be set later."),
      field("It is read", choice([["ltr", "left to right"], ["rtl", "right to left"]], "ltr", { name: "reading" }))),
    h("p", { class: "hint" }, "You will be its artist and its editor; give seats to others on its Wall."),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Make the board")));
}

async function make({ title, format, reading }, close) {
  const board = await attempt(() => addBoard({ title, reading, ...formatFields(format) }));
  if (!board) return;
  close();
  location.assign(`/boards/${board.id}`);
}
