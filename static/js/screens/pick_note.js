import { regionOn } from "./desk_facts.js";
import { NARROW } from "./desk_margin.js";
import { showRegion } from "./desk_view.js";

/** Takes a note up from a list: the page comes along to its spot, and the focus goes to it. */
export function pickNote(state, note) {
  state.set({ note: note.id });
  const region = regionOn(note, state.known);
  if (region && (NARROW.matches || state.known.isMoved)) showRegion(state, region);
  requestAnimationFrame(() => document.querySelector(`[data-key="note-${note.id}"]`)?.focus());
}
