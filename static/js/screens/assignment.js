import { critiquesOf, openedPagesOf, readAssignment, readWork, removeAssignment, roundsOf } from "../api/assignments.js";
import { pagesOfBoard } from "../api/pages.js";
import { askFirst } from "../elements/dialog.js";
import { button, h, swap } from "../elements/h.js";
import { readAndShow } from "../elements/read_and_show.js";
import { attempt } from "../elements/slips.js";
import { assignmentDialog } from "./assignment_dialog.js";
import { briefPart, openedPart, rubricPart } from "./assignment_parts.js";
import { critiquesPart } from "./assignment_critiques.js";
import { openingPart } from "./assignment_opening.js";
import { roundsPart } from "./assignment_rounds.js";
import { pagesPart, stagesPart } from "./assignment_work.js";

/** As in the stylesheet: below this there is one column. */
const narrow = matchMedia("(max-width: 56rem)");
const shell = JSON.parse(document.getElementById("shell").textContent);
const at = (id) => document.getElementById(id);
const load = readAndShow("assignment", read, show);
load();
narrow.addEventListener("change", load);
// A tab that lay asleep may have missed a round, a critique or a hand-in. One that waits for its picture goes on waiting.
document.addEventListener("visibilitychange", () => !document.hidden && !document.querySelector('[data-key^="hand-in"]:disabled') && load());

async function read() {
  const one = await readAssignment(shell.assignment);
  const [critiques, opened] = await Promise.all([critiquesOf(one.id), openedPagesOf(one.id)]);
  if (shell.instructs) return { one, critiques, opened, rounds: await roundsOf(one.id) };
  const work = await readWork(one.own_work);
  return { one, critiques, opened, work, pages: await pagesOfBoard(work.board) };
}

function show(told) {
  const [parts, beside] = shell.instructs ? forInstructor(told) : forStudent(told);
  at("assignment-body").setAttribute("aria-busy", "false");
  swap(at("assignment-body"), h("div", { class: "column" }, parts.filter(Boolean)), h("div", { class: "column" }, beside.filter(Boolean)));
}

function forInstructor({ one, rounds, critiques, opened }) {
  swap(at("assignment-tools"),
    button("Change", () => assignmentDialog(shell, one, load), { class: "button first", "data-key": "change" }),
    h("a", { class: "button", href: `/classes/${shell.class.id}` }, "The table"),
    button("Delete", () => remove(one), { "data-key": "delete" }));
  return [[briefPart(one), roundsPart(one, rounds, load), critiquesPart(critiques, shell)], [rubricPart(one), openingPart(one, opened, load)]];
}

function remove(one) {
  askFirst(`Delete “${one.title}”?`, "Its boards go with it. Once a student has uploaded a drawing, it can no longer be deleted.", "Delete it", async () => {
    if (await attempt(async () => { await removeAssignment(one); return true; })) location.assign(`/classes/${shell.class.id}`);
  });
}

function forStudent({ one, work, critiques, opened, pages }) {
  swap(at("assignment-tools"), h("a", { class: "button first", href: `/boards/${work.board}` }, "Your board"));
  const stages = stagesPart(work, one.grace_minutes, load);
  const [own, beside] = [[pagesPart(pages), critiquesPart(critiques, shell)], [rubricPart(one, work.marks), openedPart(opened)]];
  // On a telephone what one comes for stands before what may be long.
  return narrow.matches ? [[briefPart(one), stages, ...own], beside] : [[briefPart(one), ...own], [stages, ...beside]];
}
