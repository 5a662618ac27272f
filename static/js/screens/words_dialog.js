import { addPanel } from "../api/pages.js";
import { openDialog } from "../elements/dialog.js";
import { field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { keepFields, valuesOf } from "../elements/keep_fields.js";
import { attempt } from "../elements/slips.js";
import { load } from "./desk_load.js";
import { wordsEdit } from "./words_edit.js";

/** What happens and what is said, on a page or in a panel; without a row, in a new panel. @param {"pages"|"panels"} kind */
export function wordsDialog(title, kind, row, state) {
  const areas = {
    happens: h("textarea", { name: "happens", rows: "4", value: row?.happens ?? "" }),
    said: h("textarea", { name: "said", rows: "4", value: row?.said ?? "" }),
  };
  const told = h("div", { role: "status" });
  const edit = row && wordsEdit(kind, row);
  const keep = () => (edit ? keepFields(edit, areas, told) : attempt(() => addPanel(state.known.pageId, valuesOf(areas))));
  openDialog(title, (close) => form({}, async () => {
    const isKept = await keep();
    if (isKept) close();
    load(state, ["page", "panels"]);
  },
    field("What happens", areas.happens), field("What is said", areas.said, "One line each, as NAME: words, CAPTION: words or SFX: word."), told,
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Keep it"))));
}
