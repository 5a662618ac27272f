import assert from "node:assert/strict";
import { test } from "node:test";
import { keptPoints, keptWithin, linePaths, regionAround } from "../../static/js/geometry/drawn_lines.js";
import { area } from "../../static/js/geometry/page_space.js";
import { alongWith } from "../../static/js/gestures/nudge_region.js";

const wave = Array.from({ length: 2000 }, (_, i) => [i / 4, 80 * Math.sin(i / 30)]);

test("of a straight line only its ends are kept, of a bend its corner too", () => {
  assert.deepEqual(keptPoints([[0, 0], [1, 0.001], [2, 0], [3, 0]], 0.01), [0, 3]);
  assert.deepEqual(keptPoints([[0, 0], [1, 0], [2, 0], [2, 5]], 0.01), [0, 2, 3]);
});

test("a stroke keeps to its points, however fine it was drawn", () => {
  const kept = keptWithin(wave, 0.01, 100);
  assert.ok(kept.length <= 100 && kept[0] === 0 && kept.at(-1) === 1999);
});

test("no point that is left out lies further off than the tolerance", () => {
  const kept = keptPoints(wave, 0.7).map((i) => wave[i]);
  const off = ([x, y]) => Math.min(...kept.slice(1).map(([x1, y1], i) => {
    const [x0, y0] = kept[i];
    const share = Math.min(1, Math.max(0, ((x - x0) * (x1 - x0) + (y - y0) * (y1 - y0)) / ((x1 - x0) ** 2 + (y1 - y0) ** 2)));
    return Math.hypot(x - x0 - share * (x1 - x0), y - y0 - share * (y1 - y0));
  }));
  assert.ok(Math.max(...wave.map(off)) <= 0.7);
});

test("the region around a straight line encloses something on the page", () => {
  for (const points of [[[0, 0.3], [1, 0.3]], [[1, 0], [1, 1]], [[0, 0], [0, 1]]]) {
    const { polygon } = regionAround([{ kind: "arrow", points }]);
    assert.ok(area(polygon) > 0 && polygon.flat().every((v) => v >= 0 && v <= 1));
  }
});

test("a pressed pen draws a thicker line, an even one a single path", () => {
  const points = [[0, 0], [10, 0], [20, 0]];
  const at = (point) => point;
  assert.equal(linePaths({ kind: "stroke", points }, at).length, 1);
  const [thin, thick] = linePaths({ kind: "stroke", points, pressures: [0, 0, 1] }, at);
  assert.ok(thick.width > thin.width);
});

test("lines go where their region goes", () => {
  const box = (x) => ({ polygon: [[x, 0.1], [x + 0.2, 0.1], [x + 0.2, 0.3]] });
  const [line] = alongWith([{ kind: "arrow", points: [[0.1, 0.1], [0.3, 0.3]] }], box(0.1), box(0.2));
  assert.deepEqual(line.points.flat().map((v) => Number(v.toFixed(6))), [0.2, 0.1, 0.4, 0.3]);
});
