import { deliverRound, letIn, moveDeadline, openRound, removeRound } from "../api/assignments.js";
import { askFirst, openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { button, h } from "../elements/h.js";
import { attempt } from "../elements/slips.js";
import { stageWord } from "../elements/stage_mark.js";
import { inDays, isoTime, localTime } from "../elements/time_fields.js";
import { count, when } from "../elements/words.js";

/** Rounds of critique: drawn, watched and delivered by the instructor. */
export function roundsPart(one, rounds, changed) {
  return h("section", { class: "part" }, h("h2", {}, "Rounds of critique"),
    rounds.length ? h("ul", { class: "told" }, rounds.map((round) => roundRow(round, changed))) : h("p", { class: "quiet" }, "None yet. In a round everybody reads, and is read by, as many classmates."),
    h("div", { class: "buttons" }, button("Begin a round", () => roundDialog(one, changed), { "data-key": "round" })));
}

function roundRow(round, changed) {
  const deliver = () => askFirst("End the round?", `${round.sent} of ${round.critiques} critiques are sent; they come to the boards now, all at once. The others are not delivered.`, "Deliver them",
    () => attempt(() => deliverRound(round.id), { done: "Delivered." }).then(changed));
  return h("li", {},
    h("span", { class: "in-line" }, stageWord(round.stage), `each reads ${round.each_reads}, ${round.is_anonymous ? "without names" : "by alias"}, until ${when(round.due_at)}`),
    h("span", {}, h("span", { class: "figure" }, `${round.sent} of ${round.critiques}`), " sent"),
    round.left_out.map((one) => leftOutRow(round, one, changed)),
    round.delivered_at ? h("span", { class: "quiet" }, `delivered ${when(round.delivered_at)}`) : h("div", { class: "buttons" },
      button("Move its end", () => deadlineDialog(round, changed), { "data-key": `deadline-${round.id}` }),
      button("End it and deliver", deliver, { "data-key": `deliver-${round.id}` }),
      !round.sent && button("Remove it", () => remove(round, changed), { "data-key": `remove-${round.id}` })));
}

/** Somebody who handed the stage in after it was drawn. */
function leftOutRow(round, one, changed) {
  const doIt = () => attempt(() => letIn(round.id, one.work), { done: `${one.student} is in the round.` }).then(changed);
  return h("span", { class: "in-line" }, `${one.student} handed in since. `, button("Let in", () => askFirst(`Let ${one.student} into the round?`,
    `${one.student} reads ${count(round.each_reads, "work")}, and as many classmates are given this one to read beside theirs. They see that it came later.`, "Let in", doIt),
  { "aria-label": `Let ${one.student} into the round`, "data-key": `let-in-${round.id}-${one.work}` }));
}

const remove = (round, changed) => askFirst("Remove the round?", "It was drawn, and nobody has sent a critique in it. Once somebody wrote in it, it is kept.", "Remove it",
  () => attempt(() => removeRound(round.id).then(() => true), { done: "Removed." }).then(changed));

function deadlineDialog(round, changed) {
  openDialog("Until when is it written?", (close) => form({}, async ({ due_at }) => {
    if (!(await attempt(() => moveDeadline(round.id, isoTime(due_at)), { done: "Moved." }))) return;
    close();
    changed();
  },
    field("Until", h("input", { name: "due_at", type: "datetime-local", required: true, value: localTime(round.due_at) })),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Move it"))));
}

function roundDialog(one, changed) {
  openDialog("A round of critique", (close) => form({}, async ({ stage, each_reads, due_at, is_anonymous }) => {
    const fields = { stage, each_reads: Number(each_reads), due_at: isoTime(due_at), is_anonymous: Boolean(is_anonymous) };
    if (!(await attempt(() => openRound(one.id, fields), { done: "Drawn." }))) return;
    close();
    changed();
  },
    h("div", { class: "pair" },
      field("Stage", choice(one.stages.map(({ stage }) => [stage, stage]), one.stages[0].stage, { name: "stage" })),
      field("Each reads", h("input", { name: "each_reads", type: "number", min: "1", max: "50", value: "2" }))),
    field("Until", h("input", { name: "due_at", type: "datetime-local", required: true, value: inDays(3) })),
    h("div", { class: "choices" }, h("label", {}, h("input", { type: "checkbox", name: "is_anonymous", checked: true }), "Without names, on both sides")),
    h("p", { class: "hint" }, "Drawn among those who handed the stage in. When the time is over, what was sent is delivered to all at once. You see who wrote what; students do not."),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, "Draw who reads whom"))));
}
