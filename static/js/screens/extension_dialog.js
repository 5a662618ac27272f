import { extend } from "../api/assignments.js";
import { openDialog } from "../elements/dialog.js";
import { field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { attempt } from "../elements/slips.js";
import { isoTime, localTime } from "../elements/time_fields.js";

/** More time for one student. */
export function extensionDialog({ changed }, row, one) {
  openDialog(`${row.student}: more time`, (close) => form({}, async ({ due_at }) => {
    if (!(await attempt(() => extend(row.work, one.stage, isoTime(due_at)), { done: "Given." }))) return;
    close();
    changed();
  },
    field(`For the ${one.stage} stage, until`, h("input", { name: "due_at", type: "datetime-local", required: true, value: localTime(one.due_at) }), "What is handed in by then is in time, also if it is handed in already. Why stays between you; it is not kept here."),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Give it"))));
}
