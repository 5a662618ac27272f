import { svg } from "../elements/h.js";
import { drawLines } from "../elements/note_strokes.js";
import { isClosed } from "../elements/words.js";
import { draftHere, notesListed, regionOn } from "./desk_facts.js";
import { toScreen } from "./desk_picture.js";

/** The lines that notes draw over the page, in every state of theirs; those of the note at hand, and of one being written, stronger. */
export function showLines(state, view) {
  const layer = svg("svg", { class: "drawn note-lines", "aria-hidden": "true" });
  view.append(layer);
  state.on(["view", "box", "revision", "notes", "note", "draft", "overlays", "showsClosed", "page"], (known) => {
    if (!known.view || !known.revision) return layer.replaceChildren();
    const at = toScreen(known);
    const notes = known.overlays.notes ? notesListed(known).filter((note) => note.id !== known.draft?.note?.id) : [];
    layer.replaceChildren(
      ...notes.flatMap((note) => drawLines(linesOn(note, known), at, isClosed(note) ? "is-closed" : note.id === known.note ? "is-at-hand" : "")),
      ...drawLines(draftHere(known)?.lines ?? [], at, "is-at-hand is-draft"));
  });
}

/** On the revision that is shown. */
export function linesOn(note, known) {
  if (!note.lines?.length || !regionOn(note, known)) return [];
  return known.revision.id === known.page?.current_revision?.id && note.here ? note.here.lines : note.lines;
}
