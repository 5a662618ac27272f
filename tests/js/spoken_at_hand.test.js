import assert from "node:assert/strict";
import { test } from "node:test";
import { seenWords } from "../../static/js/screens/compare_spoken.js";
import { panelWords } from "../../static/js/screens/panel_spoken.js";

test("a panel that is taken up by a key is told with its place, its open notes and its words", () => {
  const note = { panel: 7, state: "open", source: "person", revision: 3 };
  const known = {
    page: { current_revision: { id: 3 } }, revision: { id: 3, panels: [{ id: 6, order: 1 }, { id: 7, order: 2 }] }, panels: [],
    notes: [note, { ...note, state: "settled" }, { ...note, source: "measured" }, { ...note, panel: 6 }, { ...note, astray: { why: "picture" } }],
  };
  assert.equal(panelWords(known, { id: 7, order: 2, row: { happens: "The wheel turns.", said: "", sent_back_to: "" } }), "Panel 2 of 2, with 1 open note and 1 measured note. The wheel turns.");
  assert.equal(panelWords({ ...known, notes: [] }, { id: 6, order: 1 }), "Panel 1 of 2.");
});

test("Compare tells how the two sheets lie and which is seen", () => {
  const [older, newer] = [3, 4].map((number) => ({ number, stage: "pencil", alternate: "A" }));
  const known = { mode: "flip", isFlipped: false, fade: 50, edge: 50, older, newer, steps: null, wantsRegistered: true };
  assert.equal(seenWords({ ...known, mode: "side" }), "Side by side: revision 3, pencil, and revision 4, pencil.");
  assert.match(seenWords({ ...known, mode: "fade", fade: 55 }), /^Fade: 55 % of revision 4, pencil, over revision 3, pencil, as uploaded/);
  assert.match(seenWords({ ...known, isFlipped: true }), /^Flip: revision 3, pencil/);
});
