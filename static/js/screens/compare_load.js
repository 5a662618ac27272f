import { notesOfPage } from "../api/notes.js";
import { panelsOfPage, readPage, readRegistration, revisionsOfPage } from "../api/pages.js";
import { letGo } from "../elements/let_go.js";
import { readingCame, readingFailed } from "../elements/readings.js";
import { sayProblem } from "../elements/slips.js";
import { notesOnPair, pairOf } from "./compare_facts.js";

/** Reads the page and its revisions, and settles which two lie on the table. */
export async function load(state) {
  const { pageId, wanted } = state.known;
  try {
    const [page, revisions, pageNotes, pagePanels] = await Promise.all([readPage(pageId), revisionsOfPage(pageId), notesOfPage(pageId), panelsOfPage(pageId)]);
    readingCame();
    await take(state, pairOf(revisions, { ...wanted, current: page.current_revision?.id }), { page, revisions, pageNotes, panels: pagePanels });
  } catch (error) {
    readingFailed(error, "compare", () => load(state));
    state.set({ isLoaded: true });
  }
}

/** Another pair; the address says which, so that it can be sent to somebody. */
export function choosePair(state, before, after) {
  const pair = pairOf(state.known.revisions, { before, after });
  if (!pair) return undefined;
  state.known.wanted = { before: pair.older.id, after: pair.newer.id };
  history.replaceState(null, "", `?before=${pair.older.id}&after=${pair.newer.id}`);
  return take(state, pair, {}).catch(sayProblem);
}

/** The map between the two is asked for anew each time: it may have been worked out meanwhile. */
async function take(state, pair, more) {
  const steps = pair ? (await readRegistration(pair.newer.id, pair.older.id)).steps : null;
  await letGo();
  const sheets = pair ?? { older: null, newer: null };
  state.set({ ...more, ...sheets, steps, revision: sheets.newer, notes: notesOnPair(more.pageNotes ?? state.known.pageNotes, sheets), isLoaded: true });
}

/** Only what is said of the page. */
export async function loadNotes(state) {
  const pageNotes = await notesOfPage(state.known.pageId).catch((problem) => readingFailed(problem, "notes", () => loadNotes(state)));
  if (!pageNotes) return;
  readingCame();
  await letGo();
  state.set({ pageNotes, notes: notesOnPair(pageNotes, state.known) });
}
