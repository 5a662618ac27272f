import assert from "node:assert/strict";
import { test } from "node:test";
import { affineOf, grown, meshOf } from "../../static/js/geometry/mesh_warp.js";

const close = (got, wanted) => assert.ok(Math.abs(got - wanted) <= 1e-12 * Math.max(1000, Math.abs(wanted)), `${got} is not ${wanted}`);
const through = ([a, b, c, d, e, f], [x, y]) => [a * x + c * y + e, b * x + d * y + f];
const from = { width: 400, height: 600 };
const to = { width: 800, height: 1000 };

test("each triangle is laid corner on corner", () => {
  const bent = ([x, y]) => [x * 0.9 + 0.02 * y * y, y + 0.03 * x];
  for (const triangle of meshOf(bent, from, to, 3, 4)) {
    const affine = affineOf(triangle);
    for (const [k, corner] of triangle.from.entries()) {
      const laid = through(affine, corner);
      for (const axis of [0, 1]) close(laid[axis], triangle.to[k][axis]);
    }
  }
});

test("the mesh covers the whole sheet once", () => {
  const area = ([[x0, y0], [x1, y1], [x2, y2]]) => Math.abs((x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)) / 2;
  const mesh = meshOf((share) => share, from, to, 5, 7);
  assert.equal(mesh.length, 70);
  close(mesh.reduce((sum, one) => sum + area(one.to), 0), to.width * to.height);
});

test("a triangle that encloses nothing has no transform", () => {
  assert.equal(affineOf({ from: [[0, 0], [1, 1], [2, 2]], to: [[0, 0], [1, 0], [0, 1]] }), null);
});

test("a grown triangle reaches out at every corner by as much as was asked for", () => {
  const corners = [[0, 0], [10, 0], [5, 9]];
  const middle = [5, 3];
  for (const [k, [x, y]] of grown(corners, 2).entries())
    close(Math.hypot(x - middle[0], y - middle[1]), Math.hypot(corners[k][0] - middle[0], corners[k][1] - middle[1]) + 2);
});
