import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { clipToPolygon } from "../../static/js/geometry/clip_polygon.js";
import { GroundView } from "../../static/js/geometry/ground_view.js";
import { boxAt, perspectiveGrid } from "../../static/js/geometry/perspective_grid.js";
import { groundView } from "../../static/js/geometry/view_of_points.js";

const vectors = JSON.parse(readFileSync(new URL("../vectors/perspective_grid.json", import.meta.url)));

const near = (got, wanted, within) => {
  assert.equal(got.length, wanted.length);
  got.forEach((v, i) => assert.ok(Math.abs(v - wanted[i]) <= within, `${got} is not ${wanted}`));
};
const viewOf = (row) => groundView({ ...row, diagonalPx: row.diagonal_px, focalPx: row.focal_px, eyeHeightM: row.eye_height_m, centre: row.known_centre });
const sizeOf = (row) => ({ widthM: row.width_m, heightM: row.height_m, depthM: row.depth_m, turnDeg: row.turn_deg });
const seen = (name) => viewOf(vectors.views.find((row) => row.name === name));

for (const row of vectors.views)
  test(`the camera of "${row.name}" is found again from its points`, () => {
    const [view, wanted] = [viewOf(row), row.view];
    assert.ok(view instanceof GroundView);
    assert.deepEqual([view.isMeasured, view.focalIsAssumed], [wanted.is_measured, wanted.focal_is_assumed]);
    near([...view.centre, view.focalPx, view.eyeHeight], [...wanted.centre, wanted.focal_px, wanted.eye_height], 2e-3);
    near([...view.down, ...view.level.flat()], [...wanted.down, ...[wanted.level].flat(2)], 1e-5);
  });

for (const row of vectors.no_view) test(`no floor: ${row.name}`, () => assert.deepEqual(viewOf(row), { reason: row.reason }));

for (const row of vectors.clips)
  test(`a line is cut at the outline: ${row.name}`, () => {
    near(clipToPolygon(row.line, row.polygon).flat(2), row.segments.flat(2), 1e-9);
  });

/** From left to right; an upright's upper end first, whatever is rounded. */
const inOrder = (segment) => [...segment].sort((a, b) => Math.round(1e3 * (a[0] - b[0])) || a[1] - b[1]);
const apart = (a, b) => Math.max(...a.flat().map((v, i) => Math.abs(v - b.flat()[i])));

for (const row of vectors.grids)
  test(`the floor has the lines that the camera sees: ${row.name}`, () => {
    const { floor } = perspectiveGrid(viewOf(row), row.polygon, row.step);
    floor.forEach((pencil, i) => {
      assert.equal(pencil.length, row.floor[i].length);
      const wanted = row.floor[i].map(inOrder);
      for (const segment of pencil.map(inOrder)) assert.ok(Math.min(...wanted.map((other) => apart(segment, other))) < 2e-3);
    });
  });

for (const row of vectors.walls)
  test(`walls stand on their foot and end where their squares grow too flat: ${row.name}`, () => {
    const walls = perspectiveGrid(viewOf(row), row.polygon, row.step).walls.flat().map(inOrder);
    const wanted = row.walls.map(inOrder);
    assert.equal(walls.length, wanted.length);
    for (const segment of walls) assert.ok(Math.min(...wanted.map((other) => apart(segment, other))) < 2e-3);
  });

for (const row of vectors.boxes)
  test(`a box stands where the camera sees it: ${row.name}`, () => {
    const box = boxAt(viewOf(row), row.foot, sizeOf(row));
    near(box.corners.flat(), row.corners.flat(), 2e-3);
    assert.equal(box.edges.length, 12);
  });

for (const row of vectors.no_box)
  test(`no box: ${row.name}`, () => assert.deepEqual(boxAt(viewOf(row), row.foot, sizeOf(row)), { reason: row.reason }));

test("the lines of a wall stay on its side and in the panel", () => {
  const view = seen("two points");
  const polygon = [[100, 100], [700, 60], [640, 760], [90, 740]];
  const { walls } = perspectiveGrid(view, polygon, 0.5);
  assert.ok(walls.length >= 2);
  for (const [x, y] of walls.flat(2)) assert.ok(x >= 89.99 && x <= 700.01 && y >= 59.99 && y <= 760.01);
});

test("a grid without a step is none", () => {
  for (const step of [0, -1, NaN, Infinity]) assert.deepEqual(perspectiveGrid(seen("one point"), [[0, 0], [9, 0], [9, 9]], step), { reason: "A grid needs a step." });
});
