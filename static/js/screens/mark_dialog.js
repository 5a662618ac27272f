import { markWork, readWork } from "../api/assignments.js";
import { RowEdit } from "../api/row_edit.js";
import { openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { keepFields } from "../elements/keep_fields.js";
import { attempt, say } from "../elements/slips.js";
import { fieldsOfMarks, marksOf } from "./mark_fields.js";

/** How far a work has come, by each criterion, with a word if one likes. Several may mark one work at once. */
export function markDialog({ known, told, changed }, row) {
  const { rubric } = known.chosen;
  openDialog(`${row.student}: rubric`, (close) => {
    const body = h("div", { class: "stack", "aria-busy": "true" });
    attempt(() => readWork(row.work)).then((work) => {
      if (!work) return close();
      body.setAttribute("aria-busy", "false");
      return body.replaceChildren(markForm(work, rubric, told.levels, () => {
        close();
        changed();
      }));
    });
    return body;
  });
}

function markForm(work, rubric, levels, done) {
  const fieldsOf = ({ marks }) => fieldsOfMarks(rubric, marks);
  const edit = new RowEdit(work, { send: (row, changed) => markWork(row, marksOf(changed)), read: () => readWork(work.id), fieldsOf });
  const controls = Object.fromEntries(Object.entries(fieldsOf(work)).map(([name, value]) => [name, control(name, value, levels)]));
  const told = h("div", { role: "status" });
  return form({ class: "stack" }, async (values) => {
    const isChanged = Object.keys(edit.changed(values)).length > 0;
    if (!(await keepFields(edit, controls, told))) return;
    if (isChanged) say("Marked.");
    done();
  },
    rubric.map((one) => [field(one.title, controls[`level-${one.id}`], one.asks), field(`A word on ${one.title.toLowerCase()}`, controls[`comment-${one.id}`])]),
    told, h("div", { class: "buttons" }, h("button", { class: "button first" }, "Save")));
}

function control(name, value, levels) {
  if (name.startsWith("comment")) return h("textarea", { name, rows: "2", value });
  return choice([["", "not marked"], ...levels.map((level, place) => [String(place), level])], value, { name });
}
