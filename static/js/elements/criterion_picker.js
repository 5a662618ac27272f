import { choice } from "./field.js";

/** On a student's board for an assignment: which line of its rubric the note speaks to. */
export function criterionPicker(draft, desk) {
  const select = choice([["", "no criterion"], ...desk.rubric.map(({ id, title }) => [id, title])], draft.criterion ?? "", {
    class: "written", "aria-label": "Criterion", "data-key": "draft-criterion", onchange: () => desk.onChange({ criterion: Number(select.value) || null }),
  });
  return select;
}
