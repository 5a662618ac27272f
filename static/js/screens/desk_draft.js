import { newKey } from "../api/http.js";
import { dropDraft, keepDraft, readDraft } from "../elements/drafts.js";
import { say } from "../elements/slips.js";
import { count } from "../elements/words.js";
import { middleOf } from "../geometry/page_space.js";
import { heldPicture, panelAt, pictureOf } from "./desk_facts.js";
import { load } from "./desk_load.js";

/** What is written is kept under. Of several windows on a page each has its own `place` for a new note (draft_place.js). */
export const draftKey = ({ pageId, me, place }, note) => `${note ? `note ${note.id}` : `page ${pageId}`}, member ${me.id}${place && !note ? `, window ${place}` : ""}`;

const FINE = matchMedia("(pointer: fine)");

/**
 * Begins a note; words that were typed before and not sent are taken up again. What is typed next goes into it: else each letter
 * would be one of the Desk's keys. Under a finger it would bring a telephone's keyboard over the picture, and waits for a tap.
 */
export function beginDraft(state, fields, { takesFocus = FINE.matches, goesOn = false } = {}) {
  const { known } = state;
  if (!known.may.write) return say("Your seat on this board is a reader's: you can read notes, not write them.");
  const open = known.draft?.note ? null : known.draft;
  const earlier = open ?? readDraft(draftKey(known));
  const again = earlier?.revision === pictureOf(known) ? drawnBefore(earlier, fields, goesOn) : {};
  const draft = { tone: "try", body: "", scope: "region", region: null, lines: [], ...sendingOf(earlier, open), ...plain(earlier), ...fields, ...again };
  state.set({ draft: { revision: pictureOf(known), ...draft, scopeWords: placeWords(known, draft) }, note: null });
  stay(state);
  if (!open && again.lines) import("./draft_again.js").then((drafts) => drafts.tellDrawnAgain(state, fields));
  if (takesFocus) requestAnimationFrame(() => {
    areaOfDraft()?.focus({ preventScroll: true });
    if (!document.querySelector("#view:active")) showDraft();
  });
  return undefined;
}

const areaOfDraft = () => document.querySelector('[data-key="draft-body"]');

/** What is being written comes in sight with its buttons, but under no hand that still draws: the picture would go along. */
export const showDraft = () => FINE.matches && areaOfDraft()?.scrollIntoView({ block: "nearest" });

/** What may have arrived already goes on under its key. Another window's words that are being written there are a note of their own. */
const sendingOf = (earlier, open) => (open || earlier?.sent ? { key: earlier.key, sent: earlier.sent } : { key: newKey() });

/**
 * What was drawn and put away is there again with its words: lines in any case, their region unless another was drawn just now, and a
 * region alone where the note goes on and is asked for nowhere else.
 */
function drawnBefore({ region, lines = [], standsAround, scope }, fields, goesOn) {
  if (fields.lines || !(lines.length || (goesOn && region && !fields.region))) return {};
  return fields.region && !goesOn ? { lines } : { region, lines, standsAround, scope };
}

/** Back to the picture that the note is drawn on, where another is on its way or was just put there. */
function stay(state) {
  const held = heldPicture(state.known);
  if (held && held !== state.known.revision?.id && !state.known.shownRevision) load(state, []);
}

/** Outlives the tab: with where it stands, so that it can be taken up again. */
function keep(known, draft, isPutAway = false) {
  const { tone, body, criterion, region, lines, standsAround, scope, revision, key, sent } = draft;
  keepDraft(draftKey(known, draft.note), { tone, body, ...(draft.note ? {} : { criterion, region, lines, standsAround, scope, revision, isPutAway, key, sent }) });
}

export const plain = (earlier) => (earlier ? { tone: earlier.tone, body: earlier.body, criterion: earlier.criterion } : {});

export function changeDraft(state, fields) {
  const { known } = state;
  const isRedrawn = "region" in fields || "lines" in fields;
  const draft = { ...known.draft, ...(isRedrawn ? onPicture(known) : {}), ...fields };
  draft.scopeWords = placeWords(state.known, draft);
  if ("region" in fields) draft.standsAround = Boolean(fields.standsAround);
  // Typing must not draw the editor anew: only a moved region is told to the screen.
  if (isRedrawn) state.set({ draft });
  else Object.assign(known.draft, draft);
  keep(known, draft);
}

/** What is drawn on another picture than before is all that a new note draws. */
function onPicture(known) {
  const revision = pictureOf(known);
  return known.draft.note || known.draft.revision === revision ? { revision } : { revision, region: null, lines: [] };
}

export function endDraft(state) {
  const { known } = state;
  const { draft } = known;
  const { note, body, tone, lines } = draft ?? {};
  const isWritten = note ? body !== note.body || tone !== note.tone : body?.trim() || lines?.length;
  if (!isWritten) dropDraft(draftKey(known, draft?.note), draft?.key);
  else keep(known, draft, true);
  leaveDraft(state);
}

/** The Desk goes on to the page's own picture, where it stayed with the note's. */
export function leaveDraft(state, parts = []) {
  const { shownRevision, page } = state.known;
  state.set({ draft: null, shownRevision: shownRevision === page?.current_revision?.id ? null : shownRevision });
  return page ? load(state, parts) : undefined;
}

export function placeWords(known, { region, scope, lines = [] }) {
  if (!region) return scope === "spread" ? "On the whole spread." : "On the page as a whole.";
  const panel = panelAt(known, middleOf(region));
  const what = "point" in region ? "A spot" : "A region";
  const drawn = lines.length ? `, with ${count(lines.length, "line")} drawn` : "";
  return `${what} ${panel ? `in panel ${panel.order}` : "outside the panels"}${drawn}.`;
}
