import assert from "node:assert/strict";
import { test } from "node:test";
import { State } from "../../static/js/screens/state.js";

globalThis.matchMedia ??= /** @type {any} */ (() => ({ matches: false }));
const element = () => ({ append() {}, addEventListener() {}, setAttribute() {}, remove() {} });
globalThis.document ??= /** @type {any} */ ({ createElement: element, getElementById: () => null, querySelector: () => null });
const { tellOfLost, whichWords } = await import("../../static/js/screens/desk_head.js");

const picture = (id, more = {}) => ({ id, number: id, stage: "pencil", alternate: "A", panel: null, state: "ready", withdrawn_at: null, ...more });
const page = (own, chosen = "A") => ({ stage: "pencil", chosen_alternate: chosen, current_revision: own });

const words = (own, revision, more = {}) => whichWords({ page: own, revision, ...more });

test("the head says which picture lies on the Desk", () => {
  assert.equal(words(page(null), null), "pencil, no picture yet");
  assert.equal(words(page(picture(4)), picture(4)), "pencil, revision 4");
  assert.equal(words({ ...page(picture(4)), laid_aside_at: "then" }, picture(4)), "pencil, revision 4, laid aside: not in the comic");
  const chosen = picture(5, { alternate: "B" });
  assert.equal(words(page(chosen, "B"), chosen), "pencil, revision 5, alternate B");
});

test("what is not the page's own picture says why", () => {
  const own = page(picture(4));
  assert.equal(words(own, picture(3, { stage: "thumbnail" })), "thumbnail, revision 3, not the page's own now");
  assert.equal(words(own, picture(5, { alternate: "B" })), "pencil, revision 5, alternate B");
  assert.equal(words(own, picture(5, { alternate: "B", withdrawn_at: "then" })), "pencil, revision 5, alternate B, withdrawn");
  assert.equal(words(own, picture(6, { state: "refused" })), "pencil, revision 6, refused");
  assert.equal(words(own, picture(6, { panel: 9 })), "pencil, revision 6, try A at one panel");
  const panels = { panels: [{ id: 9, order: 2 }], lost: [{ id: 8, order: 2 }] };
  assert.equal(words(own, picture(6, { panel: 9, alternate: "B" }), panels), "pencil, revision 6, try B at panel 2");
  assert.equal(words(own, picture(6, { panel: 8, alternate: "B" }), panels), "pencil, revision 6, try B at a panel that is gone");
  assert.equal(words(page(picture(5, { alternate: "B" }), "B"), picture(4)), "pencil, revision 4, alternate A");
});

test("a note whose picture is withdrawn while it is written says so, and takes it back with the picture", () => {
  const draft = { region: { point: [0.5, 0.5] }, lines: [], revision: 4, body: "Closer.", scopeWords: "A spot outside the panels." };
  const state = new State({ draft, revisions: [picture(4)], revision: picture(4), panels: [] });
  const told = () => {
    tellOfLost(state);
    return state.known.draft.scopeWords;
  };
  assert.equal(told(), "A spot outside the panels.");
  state.set({ revisions: [picture(4, { withdrawn_at: "now" })] });
  assert.match(told(), /^Drawn on a picture that was withdrawn/);
  assert.equal(state.known.draft.body, "Closer.");
  state.set({ revisions: [picture(4)] });
  assert.equal(told(), "A spot outside the panels.");
});
