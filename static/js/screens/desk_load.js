import { Problem } from "../api/http.js";
import { notesOfPage } from "../api/notes.js";
import { panelsOfPage, readPage, readRevision, revisionsOfPage } from "../api/pages.js";
import { say } from "../elements/slips.js";

/** What each kind of change makes stale. Anything unknown makes all of it stale. */
const TOUCHES = [
  [/^note/, ["notes"]],
  [/^page/, ["page", "notes"]],
  [/^panel/, ["panels", "revision", "page", "notes"]],
  [/^check/, ["revision", "notes", "page"]],
  [/^job/, ["revision"]],
  [/^underlay/, []],
  [/^revision/, ["page", "revision", "revisions", "panels", "notes"]],
];

/** Reads what is asked for and puts it in the state. @param {string[]} parts */
export async function load(state, parts = ["page", "panels", "revisions", "revision", "notes"]) {
  const { pageId } = state.known;
  const wants = (name) => parts.includes(name);
  try {
    const [page, panels, revisions, notes] = await Promise.all([
      wants("page") ? readPage(pageId) : state.known.page,
      wants("panels") ? panelsOfPage(pageId) : state.known.panels,
      wants("revisions") ? revisionsOfPage(pageId) : state.known.revisions,
      wants("notes") ? notesOfPage(pageId) : state.known.notes,
    ]);
    const revision = await revisionToShow(state, page, wants("revision"));
    state.set({ page, panels: panels.filter((panel) => !panel.is_gone), revisions, notes, revision, isLoaded: true });
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    say(error.words, { isFault: true });
  }
}

async function revisionToShow({ known }, page, isStale) {
  const wanted = known.shownRevision ?? page.current_revision?.id;
  if (!wanted) return null;
  return isStale || known.revision?.id !== wanted ? readRevision(wanted) : known.revision;
}

/** Gathers what a burst of changes touches and reads it once. */
export function reloader(state, wait = 120) {
  const stale = new Set();
  const burst = { timer: null };
  return ({ kind, page }) => {
    if (page && page !== state.known.pageId) return;
    const touched = TOUCHES.find(([pattern]) => pattern.test(kind))?.[1] ?? ["page", "panels", "revisions", "revision", "notes"];
    for (const part of touched) stale.add(part);
    burst.timer ??= setTimeout(() => {
      burst.timer = null;
      const parts = [...stale];
      stale.clear();
      load(state, parts);
    }, wait);
  };
}
