import { newKey } from "../api/http.js";
import { dropDraft, keepDraft, readDraft } from "../elements/drafts.js";
import { say } from "../elements/slips.js";
import { count } from "../elements/words.js";
import { middleOf } from "../geometry/page_space.js";
import { panelAt } from "./desk_facts.js";

/** What is written is kept under. */
export const draftKey = ({ pageId, me }, note) => `${note ? `note ${note.id}` : `page ${pageId}`}, member ${me.id}`;

const FINE = matchMedia("(pointer: fine)");

/**
 * Begins a note; words that were typed before and not sent are taken up again. What is typed next goes into it: else each letter
 * would be one of the Desk's keys. Under a finger it would bring a telephone's keyboard over the picture, and waits for a tap.
 */
export function beginDraft(state, fields, { takesFocus = FINE.matches } = {}) {
  const { known } = state;
  if (!known.may.write) return say("Your seat on this board is a reader's: you can read notes, not write them.");
  const earlier = known.draft && !known.draft.note ? known.draft : readDraft(draftKey(known));
  const draft = { tone: "try", body: "", scope: "region", region: null, lines: [], key: newKey(), ...plain(earlier), ...fields };
  state.set({ draft: { ...draft, revision: known.revision?.id ?? null, scopeWords: placeWords(known, draft) }, note: null });
  if (takesFocus) requestAnimationFrame(() => document.querySelector('[data-key="draft-body"]')?.focus());
  return undefined;
}

/** What was being written when the tab was closed is taken up where it stood. */
export function takeUpDraft(state) {
  const { known } = state;
  const kept = readDraft(draftKey(known));
  if (!kept || kept.isPutAway || !known.may.write || known.draft || !(kept.body?.trim() || kept.lines?.length)) return;
  const isHere = kept.revision === known.revision?.id;
  beginDraft(state, isHere ? { region: kept.region, lines: kept.lines ?? [], standsAround: kept.standsAround, scope: kept.scope } : {}, { takesFocus: false });
  say(isHere ? "The note that you had not sent is here again." : "The words of a note that you had not sent are here again; the picture is another now.",
    { way: ["Drop it", () => dropDraftAtHand(state)] });
}

function dropDraftAtHand(state) {
  dropDraft(draftKey(state.known, state.known.draft?.note));
  state.set({ draft: null });
}

/** Outlives the tab: with where it stands, so that it can be taken up again. */
function keep(known, draft, isPutAway = false) {
  const { tone, body, region, lines, standsAround, scope, revision } = draft;
  keepDraft(draftKey(known, draft.note), { tone, body, ...(draft.note ? {} : { region, lines, standsAround, scope, revision, isPutAway }) });
}

const plain = (earlier) => (earlier ? { tone: earlier.tone, body: earlier.body } : {});

export function editNote(state, note) {
  const draft = { note, tone: note.tone, body: note.body, ...standing(note), scope: note.scope, ...plain(readDraft(draftKey(state.known, note))) };
  state.set({ draft: { ...draft, scopeWords: placeWords(state.known, draft) } });
}

export function changeDraft(state, fields) {
  const draft = { ...state.known.draft, ...fields };
  draft.scopeWords = placeWords(state.known, draft);
  if ("region" in fields) draft.standsAround = Boolean(fields.standsAround);
  // Typing must not draw the editor anew: only a moved region is told to the screen.
  if ("region" in fields || "lines" in fields) state.set({ draft });
  else Object.assign(state.known.draft, draft);
  keep(state.known, draft);
}

export function endDraft(state) {
  const { known } = state;
  const { draft } = known;
  if (draft?.note || !draft?.body.trim()) dropDraft(draftKey(known, draft?.note));
  else keep(known, draft, true);
  state.set({ draft: null });
}

/** Where a note stands now. */
export const standing = (note) => ({ region: note.here?.region ?? note.region, lines: note.here?.lines ?? note.lines });

function placeWords(known, { region, scope, lines = [] }) {
  if (!region) return scope === "spread" ? "On the whole spread." : "On the page as a whole.";
  const panel = panelAt(known, middleOf(region));
  const what = "point" in region ? "A spot" : "A region";
  const drawn = lines.length ? `, with ${count(lines.length, "line")} drawn` : "";
  return `${what} ${panel ? `in panel ${panel.order}` : "outside the panels"}${drawn}.`;
}
