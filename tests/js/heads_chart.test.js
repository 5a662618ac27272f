import assert from "node:assert/strict";
import { test } from "node:test";
import { layOutHeads } from "../../static/js/geometry/heads_chart.js";

test("pages run from side to side, more heads stand higher, and doubt reaches two sigmas each way", () => {
  const { points, sheet, pages } = layOutHeads([[2, 5, 0.2], [4, 5.5, 0.1], [10, 6, 0.1]], 5);
  assert.deepEqual(points.map(({ x }) => x), [0, 0.25, 1]);
  assert.deepEqual(pages, [2, 4, 10]);
  assert.ok(points[0].y > points[1].y && points[1].y > points[2].y);
  assert.equal(points[0].y, sheet);
  assert.ok(Math.abs(points[0].low - points[0].y - 2 * (points[1].low - points[1].y)) < 1e-12);
  for (const { low, high } of points) assert.ok(low < 1 && high > 0 && low > high);
});

test("a character that keeps its heads is a flat row, not blown up", () => {
  const { points } = layOutHeads([[1, 5, 0.01], [2, 5.02, 0.01]], 5);
  assert.ok(Math.abs(points[0].y - points[1].y) < 0.02);
});

test("figures of one page stand over each other; without any there is no chart", () => {
  assert.deepEqual(layOutHeads([[3, 5, 0.1], [3, 6, 0.1]], null).points.map(({ x }) => x), [0.5, 0.5]);
  assert.equal(layOutHeads([], 5), null);
});
