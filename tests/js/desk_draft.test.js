import assert from "node:assert/strict";
import { mock, test } from "node:test";
import { State } from "../../static/js/screens/state.js";

// The modules read the width of the screen, and what the pointer is, when they come.
globalThis.matchMedia = () => ({ matches: false });
// What is told lies on a slip for a while; nothing is shown here.
globalThis.document = { getElementById: () => null, createElement: () => ({ append() {}, addEventListener() {}, setAttribute() {}, remove() {} }) };
mock.timers.enable({ apis: ["setTimeout"] });
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

test("strokes that were put away without a word are there again, with the region around them", () => {
  const state = desk(4);
  beginDraft(state, { region: BOX, lines: [STROKE], standsAround: true });
  endDraft(state);
  assert.equal(state.known.draft, null);
  beginDraft(state, { region: null, scope: "page" }, { goesOn: true });
  const { region, lines, standsAround, scope } = state.known.draft;
  assert.deepEqual({ region, lines, standsAround, scope }, { region: BOX, lines: [STROKE], standsAround: true, scope: "region" });
});

test("a region that is drawn next is the note's, and the strokes come with it", () => {
  const state = desk(5);
  const spot = { point: [0.5, 0.5] };
  beginDraft(state, { region: BOX, lines: [STROKE], standsAround: true });
  endDraft(state);
  beginDraft(state, { region: spot });
  assert.deepEqual([state.known.draft.region, state.known.draft.lines], [spot, [STROKE]]);
});

test("a region with words comes back where the note goes on, and not where another place is asked for", () => {
  const state = desk(6);
  beginDraft(state, { region: BOX });
  changeDraft(state, { body: "Lower." });
  endDraft(state);
  beginDraft(state, { region: null, scope: "page" }, { goesOn: true });
  assert.deepEqual([state.known.draft.body, state.known.draft.region], ["Lower.", BOX]);
  endDraft(state);
  beginDraft(state, { region: null, scope: "page" });
  assert.deepEqual([state.known.draft.body, state.known.draft.region], ["Lower.", null]);
});

test("what was drawn on another picture is left there, and an empty note is dropped", () => {
  const state = desk(7);
  beginDraft(state, { region: BOX, lines: [STROKE] });
  changeDraft(state, { body: "Lower." });
  endDraft(state);
  Object.assign(state.known, { revision: { id: 7, panels: [] }, pictured: 7, page: { current_revision: { id: 7 } } });
  beginDraft(state, { region: null }, { goesOn: true });
  assert.deepEqual([state.known.draft.body, state.known.draft.lines], ["Lower.", []]);
  changeDraft(state, { body: "" });
  endDraft(state);
  beginDraft(state, { region: null }, { goesOn: true });
  assert.equal(state.known.draft.body, "");
});

test("what was changed in a note and not saved is there again when it is changed once more, and nothing where nothing was", async () => {
  const { editNote } = await import("../../static/js/screens/note_edit.js");
  const state = desk(8);
  const note = { id: 90, tone: "try", body: "Lower.", scope: "page", region: null, lines: [], here: null };
  editNote(state, note);
  changeDraft(state, { body: "Lower, and to the left." });
  endDraft(state);
  assert.equal(state.known.draft, null);
  editNote(state, note);
  assert.equal(state.known.draft.body, "Lower, and to the left.");
  changeDraft(state, { body: "Lower." });
  endDraft(state);
  editNote(state, { ...note, body: "Higher." });
  assert.equal(state.known.draft.body, "Higher.");
});

test("the line of the rubric that a note speaks to comes back with its words", () => {
  const state = desk(9);
  beginDraft(state, { region: BOX });
  changeDraft(state, { body: "Lower.", criterion: 4 });
  endDraft(state);
  beginDraft(state, { region: BOX });
  assert.equal(state.known.draft.criterion, 4);
});
