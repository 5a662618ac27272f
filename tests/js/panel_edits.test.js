import assert from "node:assert/strict";
import { test } from "node:test";
import { area, bounds } from "../../static/js/geometry/page_space.js";
import { cut, hullOf, inReadingOrder, moved, shifted, withCorner, withEdge } from "../../static/js/geometry/panel_edits.js";

const box = (left, top, right, bottom) => [[left, top], [right, top], [right, bottom], [left, bottom]];
const close = (got, wanted) => [got].flat(2).forEach((v, i) => assert.ok(Math.abs(v - [wanted].flat(2)[i]) < 1e-9, `${got} is not ${wanted}`));

test("a cut leaves two panels that make up the one", () => {
  const parts = cut(box(0.1, 0.1, 0.9, 0.5), [[0.5, 0], [0.5, 1]]);
  close(parts.map(area), [0.16, 0.16]);
  close(parts.map((part) => bounds(part)).sort(([a], [b]) => a - b), [0.1, 0.1, 0.5, 0.5, 0.5, 0.1, 0.9, 0.5]);
});

test("a slanted cut is slanted in both parts, from wherever its ends are drawn", () => {
  const short = cut(box(0, 0, 1, 1), [[0.45, 0.4], [0.55, 0.6]]);
  const long = cut(box(0, 0, 1, 1), [[0.25, 0], [0.75, 1]]);
  close(short.flat(), long.flat());
  close(short.reduce((sum, part) => sum + area(part), 0), 1);
});

test("a cut beside the panel, along its edge or of no length is none", () => {
  const panel = box(0.1, 0.1, 0.9, 0.5);
  for (const line of [[[0.95, 0], [0.95, 1]], [[0, 0.1], [1, 0.1]], [[0.5, 0.3], [0.5, 0.3]]]) assert.equal(cut(panel, line), null);
});

test("two halves merged are the whole again", () => {
  const [left, right] = cut(box(0.1, 0.1, 0.9, 0.5), [[0.5, 0], [0.5, 1]]);
  const whole = hullOf([...left, ...right]);
  assert.equal(whole.length, 4);
  close(area(whole), 0.32);
});

test("a hull holds every corner and runs clockwise on screen", () => {
  const hull = hullOf([[0, 0], [1, 0], [0.5, 0.5], [1, 1], [0, 1], [0.5, 0]]);
  assert.deepEqual(hull, [[0, 0], [1, 0], [1, 1], [0, 1]]);
});

test("corners and edges stay on the page", () => {
  const panel = box(0.1, 0.1, 0.9, 0.5);
  assert.deepEqual(withCorner(panel, 1, [1.4, -0.2])[1], [1, 0]);
  close(withEdge(panel, 1, [0.3, 0]), box(0.1, 0.1, 1, 0.5));
  close(withEdge(panel, 3, [-0.05, 0]), box(0.05, 0.1, 0.9, 0.5));
  close(shifted(panel, [0.5, -0.5]), box(0.2, 0, 1, 0.4));
});

test("parts come in the order that the comic is read in", () => {
  const [left, right] = [box(0, 0, 0.5, 1), box(0.5, 0, 1, 1)];
  const [upper, lower] = [box(0, 0, 1, 0.5), box(0, 0.5, 1, 1)];
  assert.deepEqual(inReadingOrder([right, left], "ltr"), [left, right]);
  assert.deepEqual(inReadingOrder([left, right], "rtl"), [right, left]);
  for (const reading of ["ltr", "rtl"]) assert.deepEqual(inReadingOrder([lower, upper], reading), [upper, lower]);
});

test("one thing changes its place and the others keep their order", () => {
  assert.deepEqual(moved(["a", "b", "c", "d"], 0, 2), ["b", "c", "a", "d"]);
  assert.deepEqual(moved(["a", "b", "c", "d"], 3, 0), ["d", "a", "b", "c"]);
});
