import { openDialog } from "../elements/dialog.js";
import { field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { attempt } from "../elements/slips.js";
import { load } from "./desk_load.js";

/** What happens and what is said, on a page or in a panel. */
export function wordsDialog(title, row, change, state) {
  openDialog(title, (close) => form({}, async ({ happens, said }) => {
    if (!(await attempt(() => change({ happens, said }), { onRefusal: () => load(state, ["page", "panels"]) }))) return;
    close();
    load(state, ["page", "panels"]);
  },
    field("What happens", h("textarea", { name: "happens", rows: "4", value: row.happens })),
    field("What is said", h("textarea", { name: "said", rows: "4", value: row.said }), "One line each, as NAME: words, CAPTION: words or SFX: word."),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Keep it"))));
}
