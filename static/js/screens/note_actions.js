import { bringTo, dropNote, openAgain, pinNote, readNote, sendHeld } from "../api/notes.js";
import { leaveAlone, measureAgain } from "../api/pages.js";
import { keepDraft } from "../elements/drafts.js";
import { attempt, say } from "../elements/slips.js";
import { nextToDealWith, notYetKey, notYetWord } from "./desk_facts.js";
import { load } from "./desk_load.js";
import { offerUndo } from "./undo.js";

const STATES = { settled: ["settle", "Settled."], answered: ["answer", "Marked as answered."], stet: ["let_stand", "It stands as it is."] };
const CANNOT = {
  settled: "Only who wrote this note or reviews the board can settle it.", answered: "Only who draws the page can answer it.",
  stet: "Only a reviewer can let this note stand.",
};
const LOADS = ["notes", "page", "panels", "revision"];

/** What is done with a note, by button or by key; the last of it can be undone. @param {"settled"|"answered"|"stet"|"open"|"not-yet"|"drop"|"send"|"alone"} deed */
export async function doWithNote(state, note, deed, { stepsOn = false } = {}) {
  const next = stepsOn ? nextToDealWith(state.known, note) : null;
  if (!(await deeds[deed](state, note, deed))) return;
  if (next) state.set({ note: next.id });
  await load(state, LOADS);
  if (next) focusOn(next);
}

const deeds = { settled: bring, answered: bring, stet: bring, open: again, "not-yet": notYet, drop, send, alone };

const focusOn = (note) => requestAnimationFrame(() => document.querySelector(`[data-key="note-${note.id}"]`)?.focus());

async function bring(state, note, to) {
  const [right, done] = STATES[to];
  if (!note.may?.[right]) return say(CANNOT[to]);
  if (note.state === to) return undefined;
  const now = await attempt(() => bringTo(note, to), { onRefusal: () => load(state, LOADS) });
  if (now) offerUndo(state, done, () => restore(now, note.state));
  return Boolean(now);
}

async function again(state, note) {
  const now = await attempt(() => openAgain(note), { onRefusal: () => load(state, LOADS) });
  if (!now) return false;
  if (note.state === "gone") say("Open again.");
  else offerUndo(state, "Open again.", () => restore(now, note.state));
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
async function notYet(state, note) {
  if (note.state === "answered") return again(state, note);
  const { known } = state;
  const notYet = [...known.notYet, notYetWord(note, known)];
  keepDraft(notYetKey(known), notYet);
  state.set({ notYet });
  say("It stays open.");
  return true;
}

async function drop(state, note) {
  if (!(await attempt(() => dropNote(note), { onRefusal: () => load(state, LOADS) }))) return false;
  const { tone, body, scope, region, lines, revision, criterion } = note;
  const fields = { tone, body, held: true, ...(region ? { region, lines, revision } : { scope }), ...(criterion ? { criterion } : {}) };
  offerUndo(state, "Dropped.", () => pinNote(note.page, fields));
  return true;
}

function send({ known }, note) {
  return attempt(() => sendHeld(known.board.id, [note.id]), { done: "Sent." });
}

async function alone(state, note) {
  const panel = state.known.panels.find((one) => one.id === note.panel);
  const now = await attempt(() => leaveAlone(panel, note.check));
  if (now) offerUndo(state, `${note.check_label} leaves panel ${panel.order} alone from now on.`, () => measureAgain(now, note.check));
  return Boolean(now);
}
