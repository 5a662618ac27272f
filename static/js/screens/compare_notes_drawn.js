import { drawMark } from "../elements/note_marks.js";
import { drawLines } from "../elements/note_strokes.js";
import { isClosed } from "../elements/words.js";
import { placeSeen, placesOf } from "./compare_facts.js";
import { toPane } from "./compare_view.js";
import { notesListed } from "./desk_facts.js";

/** The marks that hold the spots of notes, and what notes draw, over the sheets; beside one another each sheet has those that are known on it. */
export function showNoteMarks(state, layers) {
  state.on(["view", "box", "notes", "note", "showsClosed", "showsNotes", "mode", "isFlipped", "wantsRegistered", "steps", "newer"], (known) => {
    const isSeen = known.newer && known.view && known.page && known.showsNotes;
    const notes = isSeen ? notesListed(known) : [];
    const at = isSeen && toPane(known);
    const places = known.mode === "side"
      ? [(note) => placesOf(note, known).older, (note) => placesOf(note, known).newer]
      : [(note) => placeSeen(note, known), () => null];
    layers.forEach((layer, i) => layer.replaceChildren(...notes.flatMap((note) => drawn(note, places[i](note), known, at))));
  });
}

function drawn(note, place, known, at) {
  if (!place) return [];
  const isAtHand = note.id === known.note;
  const kind = note.source === "measured" ? "is-measured" : "is-person";
  const state = isAtHand ? " is-at-hand" : isClosed(note) ? " is-closed" : "";
  return [drawMark(place.region, at, `hold ${kind}${state}`), ...drawLines(place.lines ?? [], at, state.trim())];
}
