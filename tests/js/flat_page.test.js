import assert from "node:assert/strict";
import { test } from "node:test";
import { fromFlat, ratioOfFlat } from "../../static/js/geometry/flat_page.js";

const PHOTO = { width: 1200, height: 900 };
// Middle and ratio as OpenCV and `board.vision.straightening` give them.
const CASES = [
  { corners: [[0.2, 0.1], [0.8, 0.15], [0.9, 0.95], [0.1, 0.85]], middle: [0.49354839, 0.45645163], ratio: 1.097792906767433 },
  { corners: [[0.1, 0.1], [0.9, 0.1], [0.9, 0.9], [0.1, 0.9]], middle: [0.5, 0.5], ratio: 4 / 3 },
  { corners: [[0.25, 0.1], [0.75, 0.1], [0.95, 0.9], [0.05, 0.9]], middle: [0.5, 0.38571428], ratio: 0.8327623614723059 },
];
const isNear = (found, expected, off) => assert.ok(Math.abs(found - expected) < off, `${found} is not ${expected}`);

for (const { corners, middle, ratio } of CASES)
  test(`a page at ${corners.join(" ")} is laid flat as the worker does it`, () => {
    const map = fromFlat(corners);
    [[0, 0], [1, 0], [1, 1], [0, 1]].forEach((corner, k) => map(corner).forEach((v, axis) => isNear(v, corners[k][axis], 1e-12)));
    map([0.5, 0.5]).forEach((v, axis) => isNear(v, middle[axis], 1e-6));
    isNear(ratioOfFlat(corners, PHOTO), ratio, 1e-9);
  });
