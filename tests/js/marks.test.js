import assert from "node:assert/strict";
import { test } from "node:test";
import { arrowHead, clipLine } from "../../static/js/geometry/clip_line.js";
import { cropMarks, nearestOn } from "../../static/js/geometry/crop_marks.js";

const box = [0, 0, 100, 50];

test("a line inside the box is left as it is", () => {
  assert.deepEqual(clipLine([10, 10], [90, 40], box), { from: [10, 10], to: [90, 40], fromIsCut: false, toIsCut: false });
});

test("a line to a point far outside is cut at the edge, on its way", () => {
  const cut = clipLine([50, 25], [1050, 25], box);
  assert.deepEqual(cut.to, [100, 25]);
  assert.ok(cut.toIsCut && !cut.fromIsCut);
});

test("a line that passes through is cut at both ends", () => {
  const cut = clipLine([-100, 25], [200, 25], box);
  assert.deepEqual([cut.from, cut.to, cut.fromIsCut, cut.toIsCut], [[0, 25], [100, 25], true, true]);
});

test("a line beside the box, or a spot outside it, shows nothing", () => {
  assert.equal(clipLine([0, 60], [100, 60], box), null);
  assert.equal(clipLine([120, 0], [200, 40], box), null);
  assert.equal(clipLine([101, 10], [101, 10], box), null);
});

test("a line of no length inside the box is a spot", () => {
  assert.deepEqual(clipLine([5, 5], [5, 5], box).to, [5, 5]);
});

test("an arrow's barbs lie behind its tip", () => {
  const [barbs] = [arrowHead([0, 0], [10, 0], 5).match(/-?[\d.]+/g).map(Number)];
  assert.ok(barbs[0] < 10 && barbs[4] < 10 && barbs[1] * barbs[5] < 0);
});

test("crop marks are eight ticks that touch no corner of the region", () => {
  const ticks = cropMarks([10, 20, 110, 220], 4, 11).split("M").filter(Boolean);
  assert.equal(ticks.length, 8);
  const starts = ticks.map((tick) => tick.match(/-?[\d.]+/g).slice(0, 2).map(Number));
  for (const [x, y] of starts) assert.ok(![10, 110].includes(x) || ![20, 220].includes(y));
});

test("the nearest point of a box is on it, or the point itself when inside", () => {
  assert.deepEqual(nearestOn(box, [-30, 20]), [0, 20]);
  assert.deepEqual(nearestOn(box, [30, 20]), [30, 20]);
});
