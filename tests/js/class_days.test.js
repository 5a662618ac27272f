import assert from "node:assert/strict";
import { test } from "node:test";
import { isBehind, whatEnds } from "../../static/js/screens/class_days.js";

const RUNS = { ends_on: "2026-12-18", kept_days: 180 };
const after = (change) => whatEnds(RUNS, { ...RUNS, ...change }, "2026-12-14");

test("a class that is shortened into the past is asked about", () => {
  assert.equal(after({ ends_on: "2026-12-14" }), "");
  assert.match(after({ ends_on: "2026-12-13" }), /takes no upload/);
  assert.match(after({ ends_on: "2026-12-13", kept_days: "0" }), /listed for deletion at once/);
  assert.equal(after({ ends_on: "2026-12-13", kept_days: "1" }).includes("deletion"), false);
  assert.match(whatEnds({}, { ends_on: "2025-12-13", kept_days: "180" }, "2026-12-14"), /listed for deletion at once/);
});

test("what was past before is not asked about again", () => {
  const over = { ends_on: "2026-12-01", kept_days: 180 };
  assert.equal(whatEnds(over, { ...over, ends_on: "2026-12-02" }, "2026-12-14"), "");
  assert.match(whatEnds(over, { ...over, kept_days: "3" }, "2026-12-14"), /listed for deletion at once/);
});

test("a deadline on the last day is not behind it", () => {
  assert.equal(isBehind("2026-12-18T23:59", "2026-12-18"), false);
  assert.equal(isBehind("2026-12-19T00:00", "2026-12-18"), true);
});
