import assert from "node:assert/strict";
import { test } from "node:test";
import { openingWith, openingsOf, scrolledAround, turnOf } from "../../static/js/geometry/openings.js";

const page = (number, is_spread = false) => ({ number, is_spread, numbers: is_spread ? [number, number + 1] : [number] });
const shown = (openings) => openings.map(({ leaves }) => leaves.map(({ page: one, number }) => (one ? one.number : number && -number)));

test("spreads lie open side by side, mirrored where the comic is read from the right", () => {
  const pages = [1, 2, 3].map((n) => page(n)).concat(page(4, true), page(6));
  assert.deepEqual(shown(openingsOf(pages, "ltr")), [[null, 1], [2, 3], [4], [6, -7]]);
  assert.deepEqual(shown(openingsOf(pages, "rtl")), [[1, null], [3, 2], [4], [-7, 6]]);
});

test("on a narrow screen one page comes after the other, in order either way", () => {
  assert.deepEqual(shown(openingsOf([page(3), page(1), page(4, true)], "rtl", true)), [[1], [3], [4]]);
});

test("a page is found in its opening, and a gap is passed over", () => {
  const openings = openingsOf([1, 2, 3, 12].map((n) => page(n)), "ltr");
  assert.deepEqual([1, 2, 3, 8, 12, 99].map((n) => openingWith(openings, n)), [0, 1, 1, 1, 2, 2]);
  assert.equal(openingWith([], 4), 0);
});

test("keys, swipes and taps turn towards where the reading goes", () => {
  assert.deepEqual(["ArrowRight", "ArrowLeft", " ", "PageUp", "x"].map((key) => turnOf("ltr", { key })), [1, -1, 1, -1, 0]);
  assert.deepEqual(["ArrowRight", "ArrowLeft", " ", "PageUp"].map((key) => turnOf("rtl", { key })), [-1, 1, 1, -1]);
  assert.deepEqual([turnOf("ltr", { towards: "left" }), turnOf("rtl", { towards: "left" }), turnOf("ltr", { key: " ", shiftKey: true })], [-1, 1, -1]);
});

const drawn = (number, width_px, height_px) => ({ ...page(number), current_revision: { renditions: [{ width_px, height_px }] } });

test("a page much taller than wide lies open alone, and so does what would face it", () => {
  const pages = [drawn(1, 400, 566), drawn(2, 400, 566), drawn(3, 400, 1001), drawn(4, 400, 1000), page(5)];
  assert.deepEqual(shown(openingsOf(pages, "ltr")), [[null, 1], [2], [3], [4, 5]]);
  assert.deepEqual(shown(openingsOf(pages, "rtl")), [[1, null], [2], [3], [5, 4]]);
});

test("tall pages that follow one another are scrolled down in one go", () => {
  const openings = openingsOf([drawn(1, 400, 2000), drawn(2, 400, 2000), page(3), drawn(4, 400, 4000)], "ltr");
  assert.deepEqual(openings.map((_, at) => scrolledAround(openings, at).map(({ number }) => number)), [[1, 2], [1, 2], [], [4]]);
});
