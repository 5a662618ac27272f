import { changeNote, pinNoteOnBoard, readNote } from "../api/notes.js";
import { RowEdit } from "../api/row_edit.js";
import { openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { h, swap } from "../elements/h.js";
import { keepFields, valuesOf } from "../elements/keep_fields.js";
import { noteHead, noteTab } from "../elements/note_face.js";
import { noteOpen } from "../elements/note_open.js";
import { attempt, say } from "../elements/slips.js";
import { TONES } from "../elements/tone_mark.js";
import { isClosed } from "../elements/words.js";
import { readBoardNotes } from "./wall_load.js";


/** What is said of the comic as a whole, with replies and states: on no page, and so it stands above them. What is closed is folded away. */
export function showBoardNotes(state, place) {
  const { boardNotes: notes, noteAtHand } = state.known;
  const closed = notes.filter(isClosed);
  const list = (some) => h("ol", { class: "note-tabs board-notes" }, some.map((note) => noteItem(note, state)));
  place.hidden = !notes.length;
  swap(place, h("h2", {}, "On the comic as a whole"), list(notes.filter((note) => !isClosed(note))),
    closed.length > 0 && h("details", { open: closed.some((note) => note.id === noteAtHand) }, h("summary", {}, `Closed: ${closed.length}`), list(closed)));
}

function noteItem(note, state) {
  const isAtHand = note.id === state.known.noteAtHand;
  return noteTab(note, isAtHand,
    noteHead(note, isAtHand, () => state.set({ noteAtHand: isAtHand ? null : note.id })),
    isAtHand && noteOpen(note, deskOf(note, state)));
}

function deskOf(note, state) {
  const { may, me } = state.known;
  const again = () => readBoardNotes(state);
  return {
    may, me, draws: may.draw, panel: null, asks: false, seeBoth: null, replied: again, edit: () => boardNoteDialog(state, note),
    act: async (deed) => (await import("./note_actions.js")).doWithNote(state, note, deed, { again }),
  };
}

/** A note on the comic as a whole is written, or changed. @param {any} [note] */
export function boardNoteDialog(state, note = null) {
  const controls = {
    tone: choice(TONES.map(([tone, meaning]) => [tone, `${tone}: ${meaning}`]), note?.tone ?? "try", { name: "tone" }),
    body: h("textarea", { name: "body", required: true, rows: "4", autofocus: true, value: note?.body ?? "" }),
  };
  const told = h("div", { role: "status" });
  const edit = note && new RowEdit(note, { send: changeNote, read: ({ id }) => readNote(id), fieldsOf: ({ tone, body }) => ({ tone, body }) });
  const save = async () => (edit ? (await keepFields(edit, controls, told)) && edit.row : attempt(() => pinNoteOnBoard(state.known.board.id, valuesOf(controls))));
  openDialog(note ? "Change the note" : "A note on the comic as a whole", (close) => form({}, async () => {
    const saved = await save();
    if (saved) {
      close();
      say(note ? "Changed." : "Pinned.");
    }
    await readBoardNotes(state);
    if (saved) state.set({ noteAtHand: saved.id });
  },
    field("Tone", controls.tone),
    field("What you want to say", controls.body, "It is about no single page. What is about one is pinned on it."), told,
    h("div", { class: "buttons" }, h("button", { class: "button first" }, note ? "Save" : "Pin it"))));
}
