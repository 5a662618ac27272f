import { Problem } from "../api/http.js";
import { readPage, readRegistration, revisionsOfPage } from "../api/pages.js";
import { say } from "../elements/slips.js";
import { pairOf } from "./compare_facts.js";

/** Reads the page and its revisions, and settles which two lie on the table. */
export async function load(state) {
  const { pageId, wanted } = state.known;
  try {
    const [page, revisions] = await Promise.all([readPage(pageId), revisionsOfPage(pageId)]);
    await take(state, pairOf(revisions, { ...wanted, current: page.current_revision?.id }), { page, revisions });
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    say(error.words, { isFault: true });
    state.set({ isLoaded: true });
  }
}

/** Another pair; the address says which, so that it can be sent to somebody. */
export function choosePair(state, before, after) {
  const pair = pairOf(state.known.revisions, { before, after });
  if (!pair) return undefined;
  state.known.wanted = { before: pair.older.id, after: pair.newer.id };
  history.replaceState(null, "", `?before=${pair.older.id}&after=${pair.newer.id}`);
  return take(state, pair, {}).catch((error) => say(error.words ?? String(error), { isFault: true }));
}

/** The map between the two is asked for anew each time: it may have been worked out meanwhile. */
async function take(state, pair, more) {
  const steps = pair ? (await readRegistration(pair.newer.id, pair.older.id)).steps : null;
  state.set({ ...more, ...(pair ?? { older: null, newer: null }), steps, isLoaded: true });
}
