import { readDraft } from "../elements/drafts.js";
import { draftKey } from "./desk_draft.js";

const MOST_WINDOWS = 9;

/**
 * A place for what is written in this window, which no other window on the page has: they would write over each other. What a window
 * that is gone has left in its place is taken up by the next that comes. Where the browser has no locks, all have the first one.
 */
export async function takePlace(state) {
  const { known } = state;
  const places = [...Array(MOST_WINDOWS).keys()].map((place) => ({ place, key: draftKey({ ...known, place }) }));
  places.sort((a, b) => Number(Boolean(readDraft(b.key))) - Number(Boolean(readDraft(a.key))));
  for (const { place, key } of places) {
    const leave = await lockOf(key);
    if (!leave) continue;
    known.place = place;
    addEventListener("pagehide", leave, { once: true });
    // Come back to, it may find another window in its place.
    addEventListener("pageshow", ({ persisted }) => persisted && takePlace(state), { once: true });
    return;
  }
}

/** @returns {Promise<(() => void)|null>} what gives it back; null where another window has it */
function lockOf(key) {
  return new Promise((resolve) => {
    const hold = (lock) => (lock ? new Promise((leave) => resolve(() => leave(null))) : resolve(null));
    if (navigator.locks) navigator.locks.request(`underblue draft ${key}`, { ifAvailable: true }, hold).catch(() => resolve(null));
    else resolve(() => {});
  });
}
