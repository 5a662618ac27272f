import assert from "node:assert/strict";
import { test } from "node:test";
import { goesRound, paperCorners } from "../../static/js/uploads/paper_corners.js";

const SIZE = [160, 120];

/** A panel's frame, two pixels thick: most of the paper lies inside it. */
const onFrame = (x, y) => x > 47 && x < 115 && y > 28 && y < 98 && (x < 50 || x > 112 || y < 31 || y > 95);

/** A sheet on a table; `inside` says whether a point is on it. */
function photo(inside, { table = 60, paper = 220 } = {}) {
  return Float32Array.from({ length: SIZE[0] * SIZE[1] }, (_, i) => {
    const [x, y] = [i % SIZE[0], Math.floor(i / SIZE[0])];
    if (!inside(x + 0.5, y + 0.5)) return table + ((x * 7 + y * 13) % 11);
    return onFrame(x, y) ? 40 : paper - ((x + y) % 9); // with some lines drawn on it
  });
}

const inQuad = (corners) => (x, y) => corners.every(([ax, ay], k) => {
  const [bx, by] = corners[(k + 1) % 4];
  return (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0;
});

test("the corners of a sheet seen from a slant are found within two pixels", () => {
  const corners = [[40, 12], [125, 20], [140, 105], [22, 110]];
  const found = paperCorners(photo(inQuad(corners)), ...SIZE);
  found.forEach(([x, y], k) => assert.ok(Math.hypot(x * SIZE[0] - corners[k][0], y * SIZE[1] - corners[k][1]) < 2.5, `${k}: ${x * SIZE[0]} ${y * SIZE[1]}`));
});

test("no strip of the table is left beside a sheet that lies straight", () => {
  for (const [left, top, right, bottom] of [[20, 10, 140, 110], [20.4, 10.4, 139.6, 109.6]]) {
    const found = paperCorners(photo((x, y) => x > left && x < right && y > top && y < bottom), ...SIZE).map(([x, y]) => [x * SIZE[0], y * SIZE[1]]);
    for (const [x, y] of found) assert.ok(x > left && x < right && y > top && y < bottom, `${x} ${y}`);
  }
});

test("a scan that is paper from edge to edge, and a plain wall, have no corners to guess", () => {
  assert.equal(paperCorners(photo(() => true), ...SIZE), null);
  assert.equal(paperCorners(new Float32Array(SIZE[0] * SIZE[1]).fill(128), ...SIZE), null);
});

test("corners go round a page once, the right way", () => {
  assert.ok(goesRound([[0, 0], [1, 0], [1, 1], [0, 1]]));
  assert.ok(!goesRound([[0, 0], [0, 1], [1, 1], [1, 0]]));
  assert.ok(!goesRound([[0, 0], [1, 1], [1, 0], [0, 1]]));
});
