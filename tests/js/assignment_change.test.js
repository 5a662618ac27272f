import assert from "node:assert/strict";
import { test } from "node:test";
import { givesTime, madeInTime } from "../../static/js/screens/assignment_change.js";

const ONE = { grace_minutes: 10, stages: [{ stage: "thumbnail", due_at: "2026-12-01T18:00:00Z" }] };
const changed = (due_at, grace_minutes = 10, stage = "thumbnail") => givesTime(ONE, { grace_minutes, stages: [{ stage, due_at }] });

test("a later deadline or more grace gives time; an earlier one, or another stage, gives none to what is handed in", () => {
  assert.equal(changed("2026-12-01T18:00:00.000Z"), false);
  assert.equal(changed("2026-12-01T19:30:00+01:00"), true);
  assert.equal(changed("2026-11-30T18:00:00Z"), false);
  assert.equal(changed("2026-11-30T18:00:00Z", 20), true);
  assert.equal(changed("2026-12-08T18:00:00Z", 10, "pencil"), false);
});

test("those who were late and are so no more are counted, each stage apart", () => {
  const rows = (...late) => late.map(([thumbnail, pencil], work) => ({ work, stages: [{ stage: "thumbnail", minutes_late: thumbnail }, { stage: "pencil", minutes_late: pencil }] }));
  assert.equal(madeInTime(rows([301, 0], [0, 5], [60, 60]), rows([0, 0], [0, 0], [0, 30])), 3);
  assert.equal(madeInTime(rows([301, 0]), []), 0);
});
