import { bringTo, dropNote, openAgain, pinNote, pinNoteOnBoard, readNote, sendHeld } from "../api/notes.js";
import { leaveAlone, measureAgain } from "../api/pages.js";
import { keepDraft } from "../elements/drafts.js";
import { attempt, say } from "../elements/slips.js";
import { nextToDealWith, notYetKey, notYetWord } from "./desk_facts.js";
import { offerUndo } from "./undo.js";

const STATES = { settled: ["settle", "Settled."], answered: ["answer", "Marked as answered."], stet: ["let_stand", "It stands as it is."] };
const CANNOT = {
  settled: "Only who wrote this note or reviews the board can settle it.", answered: "Only who draws the page can answer it.",
  stet: "Only a reviewer can let this note stand.",
};

/** A key that is hit twice does one thing, and is not refused as what somebody else changed. */
const underWay = new Set();

/**
 * What is done with a note, by button or by key; the last of it can be undone.
 * @param {"settled"|"answered"|"stet"|"open"|"not-yet"|"drop"|"send"|"alone"} deed
 * @param {{again: () => Promise<any>, stepsOn?: boolean}} screen `again` reads anew what the screen shows of notes
 */
export async function doWithNote(state, note, deed, { again, stepsOn = false }) {
  if (underWay.has(note.id)) return;
  underWay.add(note.id);
  try {
    const next = stepsOn ? nextToDealWith(state.known, note) : null;
    if (!(await deeds[deed]({ state, again }, note, deed))) return;
    if (next) state.set({ note: next.id });
    await again();
    if (next) focusOn(next);
  } finally {
    underWay.delete(note.id);
  }
}

const deeds = { settled: bring, answered: bring, stet: bring, open: reopen, "not-yet": notYet, drop, send, alone };

const focusOn = (note) => requestAnimationFrame(() => document.querySelector(`[data-key="note-${note.id}"]`)?.focus());

async function bring({ again }, note, to) {
  const [right, done] = STATES[to];
  if (!note.may?.[right]) {
    say(CANNOT[to]);
    return false;
  }
  if (note.state === to) return false;
  const now = await attempt(() => bringTo(note, to), { onRefusal: again });
  if (now) offerUndo(done, () => restore(now, note.state), again);
  return Boolean(now);
}

async function reopen({ again }, note) {
  const now = await attempt(() => openAgain(note), { onRefusal: again });
  if (!now) return false;
  if (note.state === "gone") say("Open again.");
  else offerUndo("Open again.", () => restore(now, note.state), again);
  return true;
}

/** Back to the state before, unless somebody went on from there. */
async function restore(made, before) {
  const now = await readNote(made.id);
  if (now.version !== made.version) return "Somebody has gone on with this note since; it is left as it is.";
  const opened = now.state === "open" ? now : await openAgain(now);
  if (before !== "open") await bringTo(opened, before);
  return "";
}

/** Asked whether a changed spot answers the note: no. An answered note goes back to the artist; of an open one it is remembered here. */
async function notYet(screen, note) {
  if (note.state === "answered") return reopen(screen, note);
  const { state, state: { known } } = screen;
  const notYet = [...known.notYet, notYetWord(note, known)];
  keepDraft(notYetKey(known), notYet);
  state.set({ notYet });
  say("It stays open.");
  return true;
}

async function drop({ again }, note) {
  if (!(await attempt(() => dropNote(note), { onRefusal: again }))) return false;
  const { tone, body, scope, region, lines, revision, criterion } = note;
  const fields = { tone, body, held: true, ...(region ? { region, lines, revision } : { scope }), ...(criterion ? { criterion } : {}) };
  offerUndo("Dropped.", () => (note.page ? pinNote(note.page, fields) : pinNoteOnBoard(note.board, fields)), again);
  return true;
}

function send(_, note) {
  return attempt(() => sendHeld(note.board, [note.id]), { done: "Sent." });
}

async function alone({ state, again }, note) {
  const panel = state.known.panels.find((one) => one.id === note.panel);
  const now = await attempt(() => leaveAlone(panel, note.check));
  if (now) offerUndo(`${note.check_label} leaves panel ${panel.order} alone from now on.`, () => measureAgain(now, note.check), again);
  return Boolean(now);
}
