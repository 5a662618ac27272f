import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
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

const { openings, unbound } = JSON.parse(readFileSync(new URL("../vectors/page_openings.json", import.meta.url)));

function asInTable(spread, last) {
  if (spread.gap || spread.both) return spread.gap ? { gap: spread.gap } : { both: spread.both.number };
  const half = (page, missing) => page?.number ?? (missing === null ? null : `${missing > last ? "beyond" : "missing"} ${missing}`);
  return { even: half(spread.left, spread.missing.left), odd: half(spread.right, spread.missing.right) };
}

for (const row of openings)
  test(`pages ${JSON.stringify(row.pages)} lie open together as the table says`, () => {
    const pages = row.pages.map((numbers) => page(numbers[0], numbers.length > 1));
    const last = Math.max(...row.pages.flat());
    assert.deepEqual(spreadsOf(pages, "ltr").map((spread) => asInTable(spread, last)), row.open);
  });

test("one picture over the two sides of a leaf is told, and none of its pages is missing", () => {
  const spreads = spreadsOf([page(1), page(2), page(3, true), page(5)], "ltr");
  assert.deepEqual(spreads.map((spread) => spread.turns), [false, false, true, false]);
  assert.deepEqual(spreads.map((spread) => [spread.missing.left, spread.missing.right]), [[null, null], [null, null], [null, null], [null, null]]);
  assert.equal(spreadsOf([page(1), page(2, true)], "rtl")[1].turns, false);
});

for (const row of unbound)
  test(`pages ${JSON.stringify(row.pages)}, unbound, follow one another as the table says`, () => {
    const spreads = spreadsOf(row.pages.map((numbers) => page(numbers[0], numbers.length > 1)), "rtl", false);
    assert.deepEqual(spreads.map((spread) => asInTable(spread, 0)), row.open);
    assert.ok(spreads.every((spread) => !spread.turns));
  });
