import { alongWith, nudged, spoken } from "../gestures/nudge_region.js";
import { word } from "./h.js";
import { whisper } from "./slips.js";

/** Moves and sizes the region without a pointer: the button takes arrow keys while it is pressed in. */
export function placeByKeys(draft, desk) {
  const adjust = word("Move or size the region by arrow keys", () => {
    // Kept with the draft: each move draws the editor anew.
    draft.isBeingPlaced = !draft.isBeingPlaced;
    adjust.setAttribute("aria-pressed", String(draft.isBeingPlaced));
    if (draft.isBeingPlaced) whisper("Arrow keys move the region, Shift with arrow keys sizes it. Enter ends.");
  }, { "aria-pressed": String(Boolean(draft.isBeingPlaced)), "data-key": "draft-place" });
  adjust.addEventListener("keydown", (event) => {
    const region = draft.isBeingPlaced ? nudged(draft.region, event) : null;
    const lines = region && draft.lines?.length && !event.shiftKey ? alongWith(draft.lines, draft.region, region) : draft.lines;
    if (!region) return;
    event.preventDefault();
    event.stopPropagation();
    desk.onChange({ region, lines });
    whisper(spoken(region));
  });
  return adjust;
}
