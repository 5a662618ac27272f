import { bounds, boxBetween } from "../geometry/page_space.js";
import { evidenceOn, regionOn } from "./desk_facts.js";
import { NARROW } from "./desk_margin.js";
import { onto } from "./desk_picture.js";
import { moveTo } from "./desk_view.js";

/** Takes a note up from a list: the page comes along to its spot, and the focus goes to it. */
export function pickNote(state, note) {
  state.set({ note: note.id });
  if (NARROW.matches || state.known.isMoved) showSpot(state, note);
  requestAnimationFrame(() => document.querySelector(`[data-key="note-${note.id}"]`)?.focus());
}

/** Lines that lie about a spot; others run on to wherever they meet. */
const NEAR = ["edge", "true-edge", "support", "post"];
const AROUND = 0.08;
const LEAST_SHARE = 0.5;

/** A note's spot with some of the page around it; and what it is held against, where the spot is not made much smaller by that. */
export function showSpot(state, note) {
  const { known } = state;
  const region = regionOn(note, known);
  if (!region) return;
  const spot = "point" in region ? [region.point] : region.polygon;
  const [left, top, right, bottom] = bounds(spot);
  const near = boxBetween([left - AROUND, top - AROUND], [right + AROUND, bottom + AROUND]);
  const marks = (evidenceOn(note, known)?.marks ?? []).filter(({ kind }) => NEAR.includes(kind)).flatMap(({ points }) => points);
  const [close, all] = [onto(known, near), onto(known, [...spot, ...marks])];
  const share = all.scale / close.scale;
  moveTo(state, share < 1 && share > LEAST_SHARE ? all : close);
}
