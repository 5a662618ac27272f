import { openDialog } from "../elements/dialog.js";
import { h } from "../elements/h.js";
import { whisper } from "../elements/slips.js";
import { count } from "../elements/words.js";
import { listenToKeys } from "../gestures/keys.js";
import { spoken } from "../gestures/nudge_region.js";
import { add, chooseBeside, chosenOf, cutBy, exchangedWith, mergeWith, remove, toPlace, undone } from "./panels_edit_model.js";
import { nextCorner, nudge, withLine } from "./panels_edit_nudge.js";

const STEP = 0.01;

/** Every correction has its key. @param {{keep: () => void, drop: () => void}} deeds @returns {() => void} */
export function listenWhileEditing(state, home, deeds) {
  const { known } = state;
  const change = (then) => () => {
    const edit = then(known.edit);
    if (!edit || edit === known.edit) return;
    state.set({ edit });
    tell(edit);
  };
  const arrows = Object.entries({ ArrowLeft: [-STEP, 0], ArrowRight: [STEP, 0], ArrowUp: [0, -STEP], ArrowDown: [0, STEP] });
  const table = [
    { keys: ["n"], words: "next panel", run: change((edit) => chooseBeside(edit, 1)) },
    { keys: ["p"], words: "panel before", run: change((edit) => chooseBeside(edit, -1)) },
    { keys: ["c"], words: "next corner of the panel, then the whole panel again", run: change(nextCorner) },
    ...arrows.map(([key, by], k) => ({ keys: [key], words: k ? "" : "move the corner, the panel or the cut; Alt in small steps, Shift the right or lower edge",
      run: (event) => change((edit) => nudge(edit, by.map((v) => v * (event.altKey ? 0.2 : 1)), event.shiftKey))() })),
    { keys: ["a"], words: "add a panel, in the middle of the page", run: change((edit) => add(edit, [0.35, 0.4], [0.65, 0.6])) },
    { keys: ["v"], words: "an upright cut through the panel", run: change((edit) => withLine(edit, true)) },
    { keys: ["h"], words: "a level cut through the panel", run: change((edit) => withLine(edit, false)) },
    { keys: ["m"], words: "merge with the next panel", run: change((edit) => mergeWith(edit, nextOf(edit)?.key)) },
    { keys: ["x"], words: "exchange with the next panel what is written and pinned on them", run: change((edit) => exchangedWith(edit, nextOf(edit)?.key)) },
    { keys: [..."123456789"], words: "the panel's place in reading order", run: (event) => change((edit) => toPlace(edit, Number(event.key)))() },
    { keys: ["Delete", "Backspace"], words: "delete the panel", run: change(remove) },
    { keys: ["u"], words: "undo", run: change(undone) },
    { keys: ["Enter"], words: "make the cut; else keep these panels", run: () => (known.edit.line ? change((edit) => cutBy(edit, edit.line, known.board.reading))() : deeds.keep()) },
    { keys: ["Escape"], words: "put the cut or the corner away; else leave the panels as they were", run: () => stepBack(state, deeds) },
    { keys: ["?"], words: "these keys", run: () => editHelp(table) },
  ];
  whisper(`Correcting the panels. ${countOf(known.edit)}. N takes the next one, the question mark lists the keys.`);
  const isOnControl = (event) => event.key === "Enter" && event.target instanceof HTMLButtonElement;
  const stop = listenToKeys(table.map((row) => ({ ...row, unless: isOnControl })), home, { isFirst: true });
  return Object.assign(stop, { help: () => editHelp(table) });
}

const nextOf = (edit) => edit.panels[edit.panels.indexOf(chosenOf(edit)) + 1];

function stepBack(state, deeds) {
  const { edit } = state.known;
  if (edit.line || edit.corner !== null || edit.tool !== "shape") state.set({ edit: { ...edit, line: null, corner: null, tool: "shape" } });
  else deeds.drop();
}

const countOf = ({ panels }) => count(panels.length, "panel");

/** For who cannot see the outline move. */
function tell(edit) {
  const panel = chosenOf(edit);
  if (!panel) return whisper(`${countOf(edit)}.`);
  const what = edit.line ? "Cut" : edit.corner === null ? `Panel ${edit.panels.indexOf(panel) + 1}` : `Corner ${edit.corner + 1}`;
  const where = edit.line ? { polygon: edit.line } : edit.corner === null ? { polygon: panel.polygon } : { point: panel.polygon[edit.corner] };
  return whisper(`${what}: ${spoken(where)}`);
}

function editHelp(table) {
  const names = { ArrowLeft: "← → ↑ ↓", Escape: "Esc", 1: "1 … 9" };
  const rows = table.filter((row) => row.words).flatMap(({ keys, words }) => [
    h("dt", {}, (keys[0] === "1" ? ["1"] : keys).map((key) => h("kbd", {}, names[key] ?? (key.length > 1 ? key : key.toUpperCase())))), h("dd", {}, words),
  ]);
  openDialog("Keys while panels are corrected", () => h("dl", { class: "keys" }, rows));
}
