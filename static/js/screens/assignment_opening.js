import { tableOf } from "../api/assignments.js";
import { changePage, pagesOfBoard, readPage } from "../api/pages.js";
import { openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { button, h, word } from "../elements/h.js";
import { attempt } from "../elements/slips.js";
import { openedPart } from "./assignment_parts.js";

/** Pages that all of the class may see, for the instructor who opens and closes them. */
export function openingPart(one, opened, changed) {
  const close = (page) => h("div", { class: "small" }, page.student, " ", word("Close it", () => open(page.page, false, changed), { "aria-label": `Close the page of ${page.student}`, "data-key": `close-${page.page}` }));
  return openedPart(opened, close, h("div", { class: "buttons" }, button("Open a page to all", () => openingDialog(one, changed), { "data-key": "open-page" })));
}

async function open(id, is_open_to_students, changed) {
  await attempt(async () => changePage(await readPage(id), { is_open_to_students }), { done: is_open_to_students ? "Open to the class." : "Closed." });
  await changed();
  /** @type {HTMLElement|null} */ (document.querySelector('[data-key="open-page"]'))?.focus();
}

async function openingDialog(one, changed) {
  const table = await attempt(() => tableOf(one.id));
  if (!table) return;
  openDialog("Open a page to all", (close) => form({}, async ({ board, number }) => {
    const page = (await pagesOfBoard(board)).find((other) => other.number === Number(number));
    close();
    if (page) open(page.id, true, changed);
  },
    h("p", {}, "All of the class see its picture, without a name. Ask whose it is first."),
    h("div", { class: "pair" }, field("Of", choice(table.rows.map((row) => [row.board, row.student]), "", { name: "board" })),
      field("Page", h("input", { name: "number", type: "number", min: "1", max: String(one.page_count), value: "1" }))),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Open it"))));
}
