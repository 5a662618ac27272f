import { markWork, readWork } from "../api/assignments.js";
import { openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { attempt } from "../elements/slips.js";

/** How far a work has come, by each criterion, with a word if one likes. */
export function markDialog({ known, told, changed }, row) {
  const { rubric } = known.chosen;
  openDialog(`${row.student}: rubric`, (close) => {
    const body = h("div", { class: "stack", "aria-busy": "true" });
    attempt(() => readWork(row.work)).then((work) => {
      if (!work) return close();
      body.setAttribute("aria-busy", "false");
      const marks = new Map(work.marks.map((mark) => [mark.criterion, mark]));
      return body.replaceChildren(form({ class: "stack" }, async (values) => {
        const given = rubric.map(({ id }) => ({ criterion: id, level: values[`level-${id}`] === "" ? null : Number(values[`level-${id}`]), comment: values[`comment-${id}`] }));
        if (!(await attempt(() => markWork(row.work, given), { done: "Marked." }))) return;
        close();
        changed();
      }, rubric.map((one) => criterionFields(one, marks.get(one.id), told.levels)),
        h("div", { class: "buttons" }, h("button", { class: "button first" }, "Save"))));
    });
    return body;
  });
}

function criterionFields(one, mark, levels) {
  const options = [["", "not marked"], ...levels.map((level, place) => [String(place), level])];
  return [
    field(one.title, choice(options, mark ? String(mark.level) : "", { name: `level-${one.id}` }), one.asks),
    field(`A word on ${one.title.toLowerCase()}`, h("textarea", { name: `comment-${one.id}`, rows: "2", value: mark?.comment ?? "" })),
  ];
}
