import assert from "node:assert/strict";
import { test } from "node:test";
import { byRound } from "../../static/js/screens/assignment_critiques.js";

test("critiques stand by their rounds, the newest first, and in each what is not sent before what is", () => {
  const row = (id, round, written_by, is_sent) => ({ id, round, written_by, is_sent });
  const rows = [row(1, 4, "Wren", true), row(2, 4, "Sorrel", true), row(3, 4, "Teasel", false), row(4, 9, "Wren", true), row(5, 4, "Brindle", false)];
  assert.deepEqual(byRound(rows).map((round) => round.map(({ id }) => id)), [[4], [5, 3, 2, 1]]);
  assert.deepEqual(byRound([]), []);
});
