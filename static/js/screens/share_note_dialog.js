import { giveToAll } from "../api/assignments.js";
import { openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { attempt, say } from "../elements/slips.js";
import { TONES } from "../elements/tone_mark.js";
import { count } from "../elements/words.js";

/** One note for all who have the finding, each where it was found. */
export function shareNoteDialog({ known, changed }, fault) {
  const { id, rubric } = known.chosen;
  openDialog(`To all ${fault.students}: ${fault.label}`, (close) => form({}, async ({ body, tone, criterion }) => {
    const answer = await attempt(() => giveToAll(id, { kind: fault.kind, body, tone, criterion: criterion ? Number(criterion) : null }));
    if (!answer) return;
    say(`${count(answer.given.length, "note")} given.`);
    close();
    changed();
  },
    h("div", { class: "pair" },
      field("Tone", choice(TONES.map(([tone, meaning]) => [tone, `${tone}: ${meaning}`]), "try", { name: "tone" })),
      rubric.length > 0 && field("Criterion", choice([["", "none"], ...rubric.map((one) => [one.id, one.title])], "", { name: "criterion" }))),
    field("What you want to say", h("textarea", { name: "body", required: true, rows: "4", autofocus: true }), "It is pinned on each student's own page, at the spot of their finding. It may be a question."),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Give it"))));
}
