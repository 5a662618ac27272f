import { changeAssignment, setAssignment, tableOf } from "../api/assignments.js";
import { readClass } from "../api/classes.js";
import { call } from "../api/http.js";
import { boxes, ticked } from "../elements/boxes.js";
import { askFirst, openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { button, h } from "../elements/h.js";
import { attempt, say } from "../elements/slips.js";
import { boundChoice, formatChoice, formatFields } from "../elements/trim_sizes.js";
import { inDays, isoTime, localTime } from "../elements/time_fields.js";
import { count, STAGES } from "../elements/words.js";
import { givesTime, madeInTime } from "./assignment_change.js";
import { dayWords, isBehind } from "./class_days.js";
import { rubricFields, rubricOf } from "./rubric_fields.js";
import { toleranceFields, tolerancesOf } from "./tolerance_fields.js";

const SHOWN = [["at-once", "at once"], ["after-hand-in", "after the hand-in of their stage"], ["to-instructor", "to the instructor only"]];

/** Sets the class its work, or changes what was set. @param {any|null} one */
export async function assignmentDialog(shell, one, changed) {
  const [checks, me, { ends_on }] = await Promise.all([call("GET", "/checks"), call("GET", "/me"), readClass(shell.class.id)]);
  openDialog(one ? one.title : "A new assignment", (close) => {
    const rubric = rubricFields(one?.rubric ?? [{ title: "" }]);
    const done = (words) => {
      say(words);
      close();
      changed();
    };
    const element = form({}, async (values) => {
      const fields = read(values, element, checks, one);
      if (one) await change(one, fields, done);
      else if (await attempt(() => setAssignment(shell.class.id, fields))) done(await setWords(shell));
    },
      field("Title", h("input", { name: "title", required: true, maxlength: "200", value: one?.title ?? "" })),
      field("Brief", h("textarea", { name: "brief", rows: "4", value: one?.brief ?? "" })),
      !one && h("div", { class: "pair" }, field("Pages", h("input", { name: "page_count", type: "number", min: "1", max: "60", value: "1", required: true })),
        field("Printed page", formatChoice()),
        field("It is read", choice([["ltr", "left to right"], ["rtl", "right to left"]], "ltr", { name: "reading" })),
        field("Its pages", boundChoice(true))),
      stageFields(one, ends_on),
      lateFields(one),
      rubric, h("div", { class: "buttons" }, button("One more line", () => rubric.append(rubricFields([{ title: "" }]).lastElementChild))),
      !one && givenFields(me.boards),
      field("Students read what was measured", choice(SHOWN, one?.measured_shown ?? "at-once", { name: "measured_shown" })),
      boxes("Checks that run", "checks", checks.map((check) => [check.id, check.label]), one?.checks ?? checks.map((check) => check.id)),
      toleranceFields(checks, one?.own_tolerances ?? {}),
      h("div", { class: "buttons" }, h("button", { class: "button first" }, one ? "Save" : "Set it")));
    return element;
  }, { isWide: true });
}

/** Asks before marks go with lines of the rubric, and says whom a later deadline made in time. @param {(words: string) => void} done */
async function change(one, fields, done) {
  const table = () => (givesTime(one, fields) ? tableOf(one.id).catch(() => null) : null);
  const before = await table();
  const isKept = await attempt(() => changeAssignment(one, fields).catch((problem) => {
    if (problem.type !== "/problems/marks-would-go") throw problem;
    askFirst("Take it out of the rubric?", problem.message, "Take it out", () => change(one, { ...fields, drops_marks: true }, done));
    return false;
  }));
  if (!isKept) return;
  const after = before && await table();
  const inTime = after ? madeInTime(before.rows, after.rows) : 0;
  done(inTime ? `Changed. ${count(inTime, "hand-in")} that ${inTime === 1 ? "was late is" : "were late are"} in time now.` : "Changed.");
}

/** Whether there is somebody who has a board for it now. */
async function setWords(shell) {
  const { students } = await readClass(shell.class.id).catch(() => ({ students: null }));
  if (students === null) return "Set.";
  return students ? "Set. Each student has a board for it now." : "Set. No student is in the class yet; whoever comes gets a board for it.";
}

function stageFields(one, endsOn) {
  const due = new Map((one?.stages ?? []).map((stage) => [stage.stage, localTime(stage.due_at)]));
  return h("fieldset", {}, h("legend", { class: "legend" }, "Stages, each with its deadline; an empty one is not asked for"),
    h("div", { class: "pair" }, STAGES.map((stage, place) => stageField(stage, due.get(stage) ?? (one ? "" : proposed(place, endsOn)), endsOn))));
}

/** Week by week, and none behind the last day of the class. */
function proposed(place, endsOn) {
  const due = inDays(7 * (place + 1));
  return isBehind(due, endsOn) ? `${endsOn}T18:00` : due;
}

function stageField(stage, value, endsOn) {
  const hint = h("p", { class: "hint", role: "status" });
  const input = h("input", { name: `due-${stage}`, type: "datetime-local", value, oninput: () => tell() });
  const tell = () => {
    hint.textContent = isBehind(input.value, endsOn) ? `The last day of the class is ${dayWords(endsOn)}; after it nothing is handed in.` : "";
  };
  tell();
  const asked = field(stage, input);
  asked.append(hint);
  return asked;
}

function lateFields(one) {
  return h("div", { class: "pair" },
    field("Grace in minutes", h("input", { name: "grace_minutes", type: "number", min: "0", max: "10080", value: one?.grace_minutes ?? 10 }), "After the deadline, and still in time."),
    field("Late work is taken for days", h("input", { name: "late_days", type: "number", min: "0", max: "365", value: one?.late_days ?? "" }), "Empty: without end."));
}

function givenFields(boards) {
  const mine = boards.filter(({ roles }) => roles.some((role) => ["editor", "artist", "instructor"].includes(role)));
  if (!mine.length) return null;
  return h("div", { class: "pair" }, field("Cast and set are given from", choice([["", "nowhere: students make their own"], ...mine.map((board) => [board.id, board.title])], "", { name: "model_board" })),
    boxes("Given", "given", [["cast_is_given", "cast"], ["set_is_given", "set"]], []));
}

function read(values, element, checks, one) {
  const chosen = ticked(element, "checks");
  const fields = {
    title: values.title, brief: values.brief, measured_shown: values.measured_shown, grace_minutes: Number(values.grace_minutes),
    late_days: values.late_days === "" ? null : Number(values.late_days), checks: chosen.length === checks.length ? null : chosen,
    stages: STAGES.filter((stage) => values[`due-${stage}`]).map((stage) => ({ stage, due_at: isoTime(values[`due-${stage}`]) })),
    rubric: rubricOf(element), own_tolerances: tolerancesOf(element),
  };
  if (one) return fields;
  const given = values.model_board ? Object.fromEntries(ticked(element, "given").map((name) => [name, true])) : {};
  const from = values.model_board ? { model_board: Number(values.model_board) } : {};
  return { ...fields, ...from, ...given, ...formatFields(values.format), page_count: Number(values.page_count), reading: values.reading, is_bound: values.pages === "bound" };
}
