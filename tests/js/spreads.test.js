import assert from "node:assert/strict";
import { test } from "node:test";
import { spreadsOf } from "../../static/js/geometry/spreads.js";

const page = (number, is_spread = false) => ({ number, is_spread, numbers: is_spread ? [number, number + 1] : [number] });
const sides = (spread) => [spread.left?.number ?? null, spread.right?.number ?? null];

test("left to right, page 1 stands alone on the right", () => {
  const [first, second] = spreadsOf([1, 2, 3].map((n) => page(n)), "ltr");
  assert.deepEqual(sides(first), [null, 1]);
  assert.deepEqual(first.missing, { left: null, right: null });
  assert.deepEqual(sides(second), [2, 3]);
});

test("right to left mirrors it", () => {
  const [first, second] = spreadsOf([1, 2, 3].map((n) => page(n)), "rtl");
  assert.deepEqual(sides(first), [1, null]);
  assert.deepEqual(sides(second), [3, 2]);
});

test("pages come in reading order, whatever order they arrive in", () => {
  assert.deepEqual(spreadsOf([5, 1, 4, 2, 3].map((n) => page(n)), "ltr").map(sides), [[null, 1], [2, 3], [4, 5]]);
});

test("the half that is not there yet is named", () => {
  const [, second] = spreadsOf([page(1), page(2)], "ltr");
  assert.deepEqual(second.missing, { left: null, right: 3 });
  assert.deepEqual(spreadsOf([page(1), page(3)], "ltr")[1].missing, { left: 2, right: null });
});

test("whole spreads that are not there are one gap", () => {
  assert.deepEqual(spreadsOf([page(1), page(8)], "ltr")[1], { gap: [2, 7] });
});

test("two pages drawn as one picture are one spread", () => {
  const spreads = spreadsOf([page(1), page(2, true), page(4)], "ltr");
  assert.equal(spreads[1].both.number, 2);
  assert.deepEqual(sides(spreads[2]), [4, null]);
});

test("one picture over the two sides of a leaf is told, and none of its pages is missing", () => {
  const spreads = spreadsOf([page(1), page(2), page(3, true), page(5)], "ltr");
  assert.deepEqual(spreads.map((spread) => spread.turns), [false, false, true, false]);
  assert.deepEqual(spreads.map((spread) => [spread.missing.left, spread.missing.right]), [[null, null], [null, null], [null, null], [null, null]]);
  assert.equal(spreadsOf([page(1), page(2, true)], "rtl")[1].turns, false);
});

test("a comic with no page has no spread", () => {
  assert.deepEqual(spreadsOf([], "ltr"), []);
});
