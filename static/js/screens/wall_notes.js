import { changeNote, pinNoteOnBoard } from "../api/notes.js";
import { openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { h, swap } from "../elements/h.js";
import { noteHead, noteTab } from "../elements/note_face.js";
import { noteOpen } from "../elements/note_open.js";
import { attempt } from "../elements/slips.js";
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
  openDialog(note ? "Change the note" : "A note on the comic as a whole", (close) => form({}, async ({ tone, body }) => {
    const save = () => (note ? changeNote(note, { tone, body }) : pinNoteOnBoard(state.known.board.id, { tone, body }));
    const saved = await attempt(save, { done: note ? "Changed." : "Pinned.", onRefusal: () => readBoardNotes(state) });
    if (!saved) return;
    close();
    await readBoardNotes(state);
    state.set({ noteAtHand: saved.id });
  },
    field("Tone", choice(TONES.map(([tone, meaning]) => [tone, `${tone}: ${meaning}`]), note?.tone ?? "try", { name: "tone" })),
    field("What you want to say", h("textarea", { name: "body", required: true, rows: "4", autofocus: true, value: note?.body ?? "" }), "It is about no single page. What is about one is pinned on it."),
    h("div", { class: "buttons" }, h("button", { class: "button first" }, note ? "Save" : "Pin it"))));
}
