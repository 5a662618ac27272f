import { deleteStudent, deletionOf, exportOf, progressOf } from "../api/classes.js";
import { assignmentsOf } from "../api/assignments.js";
import { askFirst } from "../elements/dialog.js";
import { button, h, svg } from "../elements/h.js";
import { levelMark } from "../elements/level_mark.js";
import { readingCame, readingFailed } from "../elements/readings.js";
import { attempt } from "../elements/slips.js";
import { spell } from "../elements/time_fields.js";
import { count, when } from "../elements/words.js";
import { total } from "./class_table_facts.js";

const shell = JSON.parse(document.getElementById("shell").textContent);
const NUMBERS = new Set(["Findings", "Open notes", "Time spent"]);
const at = (id) => document.getElementById(id);
const short = (title) => (title.length > 16 ? `${title.slice(0, 15)}…` : title);
const hint = () => h("p", { class: "hint" }, "How many measured notes stand open on each. They say what to look at; they are no grade, and nobody is ranked by them.");

load();

async function load() {
  try {
    show(await Promise.all([progressOf(shell.of), assignmentsOf(shell.class.id)]));
    readingCame();
  } catch (error) {
    readingFailed(error, "progress", load);
  }
}

function show([{ rows, levels }, assignments]) {
  const known = new Map(assignments.map((one) => [one.id, one]));
  at("progress").setAttribute("aria-busy", "false");
  at("progress").append(rows.length
    ? h("section", { class: "part" }, h("h2", {}, "Findings, from assignment to assignment"), overTime(rows, known), hint())
    : h("p", { class: "quiet" }, "Nothing was set yet."), rows.length > 0 && table(rows, levels, known));
  at("progress-tools").append(
    h("a", { class: "button", href: exportOf(shell.of), download: "" }, "Take all data along"),
    button("Delete all data", remove, { class: "button red" }));
}

/** Bars side by side, in the order that the work was set. */
function overTime(rows, known) {
  const most = Math.max(1, ...rows.map(total));
  const width = 120 * rows.length;
  const bars = rows.map((row, place) => {
    const height = (100 * total(row)) / most;
    const x = 120 * place + 60;
    return [svg("rect", { class: "findings", x: x - 22, y: 124 - height, width: 44, height }),
      svg("text", { class: "count", x, y: 118 - height }, String(total(row))), svg("text", { x, y: 144 }, short(known.get(row.assignment)?.title ?? ""))];
  });
  return svg("svg", { class: "over-time", viewBox: `0 0 ${width} 152`, role: "img", "aria-label": rows.map((row) => `${known.get(row.assignment)?.title}: ${total(row)}`).join(", ") },
    svg("path", { class: "axis", d: `M0 124.5H${width}` }), bars);
}

function table(rows, levels, known) {
  const head = ["Assignment", "Handed in", "Findings", "Open notes", "Rubric", "Time spent"].map((words) => h("th", { scope: "col", class: NUMBERS.has(words) && "number" }, words));
  return h("div", { class: "ledger-frame", tabindex: "0", role: "region", "aria-label": "All assignments" },
    h("table", { class: "ledger" }, h("thead", {}, h("tr", {}, head)), h("tbody", {}, rows.map((row) => tableRow(row, levels, known.get(row.assignment))))));
}

function tableRow(row, levels, assignment) {
  const criteria = (assignment?.rubric ?? []).map((one) => [h("span", { class: "sub" }, `${one.title}: `, levelMark(row.marks[one.id], levels)),
    row.comments[one.id] && h("span", { class: "sub words" }, row.comments[one.id])]);
  return h("tr", {},
    h("th", { scope: "row" }, h("a", { href: `/assignments/${row.assignment}` }, assignment?.title)),
    h("td", {}, row.stages.map(stageCell)),
    h("td", { class: "number" }, h("span", { class: "figure" }, String(total(row)))),
    h("td", { class: "number" }, h("span", { class: "figure" }, String(row.open_notes))),
    h("td", {}, criteria), h("td", { class: "number" }, spell(row.minutes_spent)));
}

function stageCell(one) {
  const receipt = (pk, at) => h("a", { href: `/hand-ins/${pk}` }, when(at));
  return h("span", { class: "sub" }, `${one.stage}: `, one.hand_in ? receipt(one.hand_in, one.handed_in_at) : "not yet",
    one.minutes_late > 0 && h("span", { class: "late" }, ` ${spell(one.minutes_late)} late`),
    one.before_in_time && [", in time before: ", receipt(one.before_in_time, one.before_in_time_at)]);
}

/** Says what goes before anything does. */
async function remove() {
  const told = await attempt(() => deletionOf(shell.of));
  if (!told) return;
  const goes = [count(told.boards, "board"), count(told.pages, "page"), count(told.pictures, "picture"), ...drawnBeside(told), count(told.hand_ins, "receipt")];
  const written = told.critiques_received ? ` ${count(told.critiques_received, "critique")} that classmates wrote about this work ${told.critiques_received > 1 ? "stay" : "stays"} in their own lists, without the work and without a name.` : "";
  const stays = told.critiques_kept_without_name ? ` ${count(told.critiques_kept_without_name, "critique")} that went to classmates ${told.critiques_kept_without_name > 1 ? "stay" : "stays"} theirs, without a name.` : "";
  askFirst("Delete all data?", `There is no way back: ${goes.join(", ")}${told.account ? " and the account" : ""} go.${written}${stays}`, "Delete it all", async () => {
    if (await attempt(() => deleteStudent(shell.of))) location.assign(shell.of === shell.enrolment ? "/classes" : `/classes/${shell.class.id}`);
  });
}

/** What a board may hold, and many do not. */
function drawnBeside({ sheets, references, characters }) {
  return [[sheets, "sheet of thumbnails", "sheets of thumbnails"], [references, "reference"], [characters, "character"]].filter(([number]) => number).map((words) => count(...words));
}
