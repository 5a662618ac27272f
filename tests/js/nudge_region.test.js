import assert from "node:assert/strict";
import { test } from "node:test";
import { bounds } from "../../static/js/geometry/page_space.js";
import { nudged, spoken } from "../../static/js/gestures/nudge_region.js";

const box = { polygon: [[0.2, 0.3], [0.4, 0.3], [0.4, 0.5], [0.2, 0.5]] };
const near = (got, wanted) => got.forEach((v, i) => assert.ok(Math.abs(v - wanted[i]) < 1e-9, `${got} is not ${wanted}`));
const again = (region, times, key) => Array.from({ length: times }).reduce((now) => nudged(now, key), region);

test("arrow keys move a region, and back again", () => {
  near(bounds(nudged(box, { key: "ArrowRight" }).polygon), [0.21, 0.3, 0.41, 0.5]);
  const there = again(box, 7, { key: "ArrowUp" });
  near(bounds(again(there, 7, { key: "ArrowDown" }).polygon), bounds(box.polygon));
});

test("Shift sizes it at its right and lower edge, Alt takes smaller steps", () => {
  near(bounds(nudged(box, { key: "ArrowRight", shiftKey: true }).polygon), [0.2, 0.3, 0.41, 0.5]);
  near(bounds(nudged(box, { key: "ArrowUp", shiftKey: true, altKey: true }).polygon), [0.2, 0.3, 0.4, 0.4975]);
});

test("a region keeps its size at the edge of the page, and never shrinks to nothing", () => {
  near(bounds(again(box, 90, { key: "ArrowLeft" }).polygon), [0, 0.3, 0.2, 0.5]);
  near(bounds(again(box, 90, { key: "ArrowLeft", shiftKey: true }).polygon), [0.2, 0.3, 0.21, 0.5]);
});

test("a spot moves and stays on the page", () => {
  near(again({ point: [0.97, 0.5] }, 9, { key: "ArrowRight" }).point, [1, 0.5]);
});

test("any other key means something else", () => {
  assert.equal(nudged(box, { key: "Enter" }), null);
  assert.equal(nudged(box, { key: "n" }), null);
});

test("where it lies is said in words", () => {
  assert.equal(spoken(box), "from 20 % to 40 % across, 30 % to 50 % down");
  assert.equal(spoken({ point: [0.5, 0.1] }), "50 % from the left, 10 % from the top");
});
