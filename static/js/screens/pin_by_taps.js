import { area, boxBetween } from "../geometry/page_space.js";
import { beginDraft, changeDraft } from "./desk_draft.js";
import { draftHere } from "./desk_facts.js";

/** A first tap is a spot, a second one the opposite corner of a region: nobody has to drag. */
export function pinByTaps(state, point) {
  const draft = draftHere(state.known);
  const isCorner = draft && !draft.note && draft.region && "point" in draft.region;
  if (!isCorner) return beginDraft(state, { region: { point } });
  const polygon = boxBetween(draft.region.point, point);
  return area(polygon) > 0 ? changeDraft(state, { region: { polygon } }) : undefined;
}
