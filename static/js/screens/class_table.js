import { gridKeys, takeOutOfTabs } from "../elements/grid_keys.js";
import { h, word } from "../elements/h.js";
import { levelMark } from "../elements/level_mark.js";
import { spell } from "../elements/time_fields.js";
import { when } from "../elements/words.js";
import { extensionDialog } from "./extension_dialog.js";
import { markDialog } from "./mark_dialog.js";
import { sorted, total } from "./class_table_facts.js";

/**
 * Each student with what they handed in, what was measured, open notes, rubric and time spent.
 * @param {{known: any, told: any, changed: () => void}} desk
 */
export function classTable(desk) {
  const { known, told } = desk;
  const columns = columnsOf(known.chosen);
  const body = h("tbody", {});
  const table = h("table", { class: "ledger" }, h("caption", { class: "out-of-sight" }, `${known.chosen.title}, by student`));
  const heads = columns.map((column) => h("th", { scope: "col", class: column.isNumber && "number" }, column.isFixed ? column.words : sortButton(column)));
  const show = () => {
    known.shown = columns.some(({ key }) => key === known.sort.by) ? known.sort : { ...known.sort, by: columns[0].key };
    heads.forEach((head, place) => {
      const isIt = known.sort.by === columns[place].key;
      if (isIt) head.setAttribute("aria-sort", known.sort.down ? "descending" : "ascending");
      else head.removeAttribute("aria-sort");
    });
    body.replaceChildren(...sorted(told.rows, columns, known.sort).map((row) => h("tr", {}, columns.map((column) => cell(column, row, desk)))));
  };
  function sortButton(column) {
    return h("button", { type: "button", class: "sort", onclick: () => {
      known.sort = { by: column.key, down: known.sort.by === column.key ? !known.sort.down : Boolean(column.isNumber) };
      show();
      takeOutOfTabs(table);
    } }, column.words);
  }
  table.append(h("thead", {}, h("tr", {}, heads)), body);
  show();
  gridKeys(table);
  return h("div", { class: "ledger-frame" }, table);
}

function cell(column, row, desk) {
  return h(column.isHead ? "th" : "td", { scope: column.isHead && "row", class: column.isNumber && "number", "data-key": `${column.key}-${row.work}` }, column.show(row, desk));
}

/** What stands in the table, what may be done in it, and by what each column is sorted. */
function columnsOf(assignment) {
  return [
    { key: "student", words: "Student", isHead: true, by: (row) => row.student.toLowerCase(),
      show: (row) => h("a", { href: `/enrolments/${row.enrolment}/progress` }, row.student) },
    { key: "board", words: "Board", isFixed: true, show: (row) => h("a", { href: `/boards/${row.board}`, "aria-label": `Board of ${row.student}` }, "open") },
    ...assignment.stages.map(({ stage }, place) => ({ key: `stage-${stage}`, words: stage[0].toUpperCase() + stage.slice(1), by: (row) => row.stages[place]?.handed_in_at ?? "9", show: (row, desk) => handedIn(row, row.stages[place], desk) })),
    { key: "findings", words: "Findings", isNumber: true, by: total, show: (row, desk) => findings(row, desk.told) },
    { key: "notes", words: "Open notes", isNumber: true, by: (row) => row.open_notes, show: (row) => number(row.open_notes) },
    ...assignment.rubric.map((one) => ({ key: `criterion-${one.id}`, words: one.title, by: (row) => row.marks[one.id] ?? -1,
      show: (row, desk) => marked(one, row, desk) })),
    { key: "minutes", words: "Time spent", isNumber: true, by: (row) => row.minutes_spent, show: (row) => (row.minutes_spent ? spell(row.minutes_spent) : "–") },
  ];
}

const number = (n) => h("span", { class: "figure" }, String(n));

function handedIn(row, one, desk) {
  if (!one) return null;
  const more = word("more time", () => extensionDialog(desk, row, one), { "data-key": `time-${one.stage}-${row.work}`, "aria-label": `More time for ${row.student}, ${one.stage}` });
  const what = one.hand_in
    ? [h("a", { href: `/hand-ins/${one.hand_in}` }, when(one.handed_in_at)), one.minutes_late > 0 && h("span", { class: "sub late" }, `${spell(one.minutes_late)} late`),
      one.before_in_time && h("span", { class: "sub" }, "in time before: ", h("a", { href: `/hand-ins/${one.before_in_time}` }, when(one.before_in_time_at)))]
    : h("span", { class: "quiet" }, "not yet");
  return h("span", { class: "handed" }, what, one.is_extended && h("span", { class: "sub" }, `until ${when(one.due_at)}`), h("span", { class: "sub" }, more));
}

function marked(one, row, desk) {
  const [level, withWord] = [row.marks[one.id], row.comments[one.id] && "with a word"];
  const label = `${one.title} of ${row.student}: ${[desk.told.levels[level] ?? "not marked", withWord].filter(Boolean).join(", ")}`;
  return [word(levelMark(level, desk.told.levels), () => markDialog(desk, row), { "data-key": `mark-${one.id}-${row.work}`, "aria-label": label }),
    withWord && h("span", { class: "sub quiet" }, withWord)];
}

/** All together, and below by kind where there are several. */
function findings(row, { common_faults: faults }) {
  const kinds = faults.filter(({ kind }) => row.findings[kind]);
  return [number(total(row)), kinds.map(({ kind, label }) => h("span", { class: "sub" }, `${label} `, h("span", { class: "figure" }, String(row.findings[kind]))))];
}
