import { notesOfPage } from "../api/notes.js";
import { panelsOfPage, readPage, readRevision, revisionsInBrief } from "../api/pages.js";
import { letGo } from "../elements/let_go.js";
import { readingCame, readingFailed } from "../elements/readings.js";
import { heldPicture, knownBefore } from "./desk_facts.js";

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

const ALL = ["page", "panels", "revisions", "revision", "notes"];
/** Which reading each part on show came from: answers overtake each other, and an older one must not undo a newer. */
const shownFrom = {};
const readings = { begun: 0 };

/** Reads what is asked for and puts it in the state. @param {string[]} parts */
export async function load(state, parts = ALL) {
  const { pageId } = state.known;
  const mine = ++readings.begun;
  const read = (name, reader) => (parts.includes(name) ? reader(pageId) : undefined);
  try {
    const [page, panels, revisions, notes, likely] = await Promise.all([
      read("page", readPage), read("panels", panelsOfPage), read("revisions", revisionsInBrief), read("notes", notesOfPage),
      read("revision", () => likelyRevision(state.known)),
    ]);
    const revision = await revisionToShow(state, { page, revisions }, parts.includes("revision"), likely);
    await letGo();
    // A note may have been begun meanwhile on the picture that lies there.
    const held = heldBy({ ...state.known, revisions: revisions ?? state.known.revisions });
    const [standing, lost] = [false, true].map((isGone) => panels?.filter((panel) => Boolean(panel.is_gone) === isGone));
    readingCame();
    state.set({ ...newest({ page, panels: standing, lost, revisions, notes, revision: held && revision?.id !== held ? undefined : revision }, mine), isLoaded: true });
  } catch (error) {
    readingFailed(error, parts.join(), () => load(state, parts));
  }
}

function newest(answers, reading) {
  const fresh = Object.entries(answers).filter(([name, answer]) => answer !== undefined && (shownFrom[name] ?? 0) < reading);
  for (const [name] of fresh) shownFrom[name] = reading;
  return Object.fromEntries(fresh);
}

/** The one that will be shown unless the page has another by now: it is not waited for until that is known. */
function likelyRevision(known) {
  const likely = heldBy(known) ?? known.page?.current_revision?.id ?? known.pictured;
  return likely ? readRevision(likely).catch(() => undefined) : undefined;
}

/** The one that somebody asked for, or draws on. */
const heldBy = (known) => known.shownRevision ?? heldPicture(known);

async function revisionToShow({ known }, { page, revisions }, isStale, likely) {
  const wanted = heldBy({ ...known, revisions: revisions ?? known.revisions }) ?? (page ?? known.page).current_revision?.id;
  if (!wanted) return null;
  if (likely?.id === wanted) return likely;
  return isStale || known.revision?.id !== wanted ? readRevision(wanted) : undefined;
}

/** Gathers what a burst of changes touches and reads it once; then what others did is told. */
export function reloader(state, wait = 120) {
  const stale = new Set();
  const burst = { timer: null, changes: [] };
  return (change) => {
    const { kind, page } = change;
    if (page && page !== state.known.pageId) return;
    burst.changes.push(change);
    const touched = TOUCHES.find(([pattern]) => pattern.test(kind))?.[1] ?? ALL;
    for (const part of touched) stale.add(part);
    burst.timer ??= setTimeout(async () => {
      burst.timer = null;
      const [parts, changes] = [[...stale], burst.changes];
      burst.changes = [];
      stale.clear();
      const before = knownBefore(state.known);
      await load(state, parts);
      (await import("./desk_news.js")).tellNews(changes, before, state.known);
    }, wait);
  };
}
