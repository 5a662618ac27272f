import assert from "node:assert/strict";
import { test } from "node:test";
import { partsFromLines } from "../../static/js/screens/still_levels.js";

const level = (left, right = left) => [[0, left], [1, right]];
const still = (given, seen, more = {}) => ({ perspective: { is_exact: true, eye_level: given, ...more }, lines: { eye_level: seen } });

test("a camera that contradicts what the still's lines show is asked about", () => {
  assert.equal(partsFromLines(still(level(0.5), level(0.38, 0.42))), "The lines show the eye level at 40 % of the height, this camera at 50 %: a cut picture, or another pitch?");
});

test("one that agrees with them is not, nor one that there is nothing to hold against", () => {
  for (const one of [still(level(0.5), level(0.52)), still(null, level(0.4)), still(level(0.5), level(0.4), { is_exact: false }),
    { perspective: { is_exact: true, eye_level: level(0.5) }, lines: { reason: "3 segments found" } }, { perspective: {}, lines: {} }])
    assert.equal(partsFromLines(one), "");
});
