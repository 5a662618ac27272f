import assert from "node:assert/strict";
import { test } from "node:test";
import { State } from "../../static/js/screens/state.js";

// The modules read the width of the screen, and what the pointer is, when they come.
globalThis.matchMedia = () => ({ matches: false });
const { beginDraft, changeDraft, endDraft } = await import("../../static/js/screens/desk_draft.js");

const STROKE = { kind: "stroke", points: [[0.1, 0.1], [0.2, 0.2]] };
const BOX = { polygon: [[0.1, 0.1], [0.3, 0.1], [0.3, 0.3]] };

/** A Desk on which picture 5 is the page's own and lies there. */
const desk = (pageId, more = {}) => new State({
  pageId, me: { id: 1 }, may: { write: true }, page: { current_revision: { id: 5 } }, revision: { id: 5, panels: [] }, pictured: 5,
  revisions: [{ id: 5, withdrawn_at: null }, { id: 7, withdrawn_at: null }], panels: [], draft: null, shownRevision: null, ...more,
});

test("a note is of the picture that lay there when it was begun, and of another one only when it is drawn there anew", () => {
  const state = desk(1);
  beginDraft(state, { region: BOX });
  assert.equal(state.known.draft.revision, 5);
  Object.assign(state.known, { revision: { id: 7, panels: [] }, pictured: 7, shownRevision: 7 });
  changeDraft(state, { body: "Longer." });
  assert.equal(state.known.draft.revision, 5);
  changeDraft(state, { lines: [STROKE] });
  assert.deepEqual([state.known.draft.revision, state.known.draft.region, state.known.draft.lines], [7, null, [STROKE]]);
});

test("while a newer picture is fetched a note is of the one that is still seen", () => {
  const state = desk(2, { revision: { id: 7, panels: [] }, page: { current_revision: { id: 7 } }, shownRevision: 7 });
  beginDraft(state, { region: BOX });
  assert.equal(state.known.draft.revision, 5);
});

test("after the note the Desk is with the page's own picture again, also when its writer went to see it before", () => {
  const state = desk(3, { shownRevision: 5 });
  beginDraft(state, { region: BOX });
  endDraft(state);
  assert.deepEqual([state.known.draft, state.known.shownRevision], [null, null]);
});
