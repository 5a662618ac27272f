import assert from "node:assert/strict";
import { test } from "node:test";
import { State } from "../../static/js/screens/state.js";
import { showSum } from "../../static/js/screens/wall_sum.js";

test("the sum of the Wall is written, and so read out, when it changes", () => {
  const written = /** @type {string[]} */ ([]);
  const place = { get textContent() { return written.at(-1) ?? ""; }, set textContent(words) { written.push(words); } };
  const page = (must) => ({ waits_for: "artist", open_notes: { must, try: 0, ask: 0, keep: 0, measured: 0 } });
  const state = new State({ pages: null, boardNotes: [] });
  showSum(state, place);
  for (const must of [1, 1, 2]) {
    state.set({ pages: [page(must)] });
    state.tell();
  }
  assert.deepEqual(written, ["1 page, 0 finished, 1 open note", "1 page, 0 finished, 2 open notes"]);
});
