import { assignmentsOf, tableFileOf, tableOf } from "../api/assignments.js";
import { changeClass, progressOf, readClass } from "../api/classes.js";
import { choice, field } from "../elements/field.js";
import { button, h, swap } from "../elements/h.js";
import { readAndShow } from "../elements/read_and_show.js";
import { attempt } from "../elements/slips.js";
import { stageWord } from "../elements/stage_mark.js";
import { spell } from "../elements/time_fields.js";
import { count, when } from "../elements/words.js";
import { assignmentDialog } from "./assignment_dialog.js";
import { classDialog } from "./class_dialog.js";
import { classTable } from "./class_table.js";
import { commonFaults } from "./common_faults.js";
import { linksDialog } from "./links_dialog.js";
import { rosterDialog } from "./roster_dialog.js";

const shell = JSON.parse(document.getElementById("shell").textContent);
const BY_NAME = { by: "student", down: false };
const at = (id) => document.getElementById(id);
const known = { shell, assignments: [], chosen: null, wanted: null, sort: { by: "student", down: false } };
const load = readAndShow("class", read, show);

readClass(shell.class.id).then(({ caution }) => {
  at("caution").textContent = caution;
}, () => {});
swap(at("class-tools"), shell.instructs ? [
  !shell.class.is_over && button("New assignment", () => assignmentDialog(shell, null, load), { class: "button first" }),
  button("Roster", () => rosterDialog(shell, load)),
  button("Links", () => linksDialog(shell)),
  button("Change", changeIt),
] : h("a", { class: "button", href: `/enrolments/${shell.enrolment}/progress` }, "Your progress and data"));
load();

async function changeIt() {
  const one = await attempt(() => readClass(shell.class.id));
  if (one) classDialog(one.title, one, "Save", (fields) => changeClass(one.id, fields).then(() => location.reload()));
}

/** What is set, and beside it the table of what is looked at, or how far one is oneself. */
async function read() {
  const assignments = await assignmentsOf(shell.class.id);
  const wanted = known.wanted ?? known.chosen?.id;
  const chosen = assignments.find((one) => one.id === wanted) ?? assignments.at(-1) ?? null;
  return { assignments, chosen, told: chosen && await (shell.instructs ? tableOf(chosen.id) : progressOf(shell.enrolment)) };
}

function show({ assignments, chosen, told }) {
  Object.assign(known, { assignments, chosen });
  at("class-body").setAttribute("aria-busy", "false");
  if (!chosen) swap(at("class-body"), teach());
  else if (shell.instructs) showTable(told);
  else showOwn(told);
}

const teach = () => h("div", { class: "teach" }, h("h2", {}, "Nothing is set yet"), h("p", {}, shell.class.is_over ? "Nothing was set while it ran." : shell.instructs
  ? "Bring students in by a roster or by a link, and set the first assignment: each student gets a board of their own for it."
  : "When your instructor sets an assignment, it stands here, with a board of your own."));

/** What is set, and how far one is with it. */
function showOwn({ rows }) {
  const own = new Map(rows.map((row) => [row.assignment, row]));
  swap(at("class-body"), h("section", { class: "part" }, h("h2", {}, "Assignments"),
    h("ul", { class: "set-list" }, known.assignments.map((one) => setItem(one, own.get(one.id))))));
}

function setItem({ id, title, stages }, own) {
  const done = new Map((own?.stages ?? []).map((row) => [row.stage, row]));
  return h("li", {},
    h("span", {}, h("a", { href: `/assignments/${id}` }, title), own?.open_notes > 0 && h("span", { class: "sub" }, count(own.open_notes, "open note"))),
    h("span", { class: "quiet" }, stages.map(({ stage, due_at }) => h("span", { class: "sub in-line" }, stageWord(stage), handedIn(done.get(stage)) ?? (shell.class.is_over ? "not handed in" : `until ${when(due_at)}`)))));
}

const handedIn = (row) => (row?.hand_in ? h("span", {}, h("a", { href: `/hand-ins/${row.hand_in}` }, `handed in ${when(row.handed_in_at)}`),
  row.minutes_late > 0 && h("span", { class: "late" }, ` ${spell(row.minutes_late)} late`)) : null);

function showTable(told) {
  const desk = { known, told, changed: load };
  const frame = () => at("class-body").querySelector(".ledger-frame");
  const scrolledTo = frame()?.scrollLeft ?? 0;
  swap(at("class-body"),
    h("div", { class: "choose" }, chooser(), h("div", { class: "buttons" },
      h("a", { class: "button", href: `/assignments/${known.chosen.id}`, "data-key": "open" }, "Open the assignment"),
      h("a", { class: "button", href: tableFileOf(known.chosen.id, BY_NAME), download: "", "data-key": "csv", onclick: ({ target }) => { target.href = tableFileOf(known.chosen.id, told.rows.length ? known.shown : BY_NAME); } }, "Save as CSV"))),
    told.rows.length ? classTable(desk) : h("p", { class: "quiet" }, "No student is in this class yet."),
    told.rows.length > 0 && commonFaults(desk));
  frame()?.scrollTo(scrolledTo, 0);
  // Sorted by what was changed, its row stands elsewhere now.
  document.activeElement?.closest(".ledger :is(th, td)")?.scrollIntoView({ block: "nearest", inline: "nearest" });
}

function chooser() {
  const select = choice(known.assignments.map((one) => [one.id, one.title]), known.chosen.id, {
    "data-key": "assignment", onchange: () => {
      // What is marked meanwhile is marked by the rubric of the table that lies there.
      known.wanted = Number(select.value);
      load();
    },
  });
  return field("Assignment", select);
}
