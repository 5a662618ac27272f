import assert from "node:assert/strict";
import { test } from "node:test";
import { cursorAt, doubtOf, ontoHead, stepOf } from "../../static/js/screens/figures_close_up.js";

const revision = { width_px: 1200, height_px: 1800 };
const box = { width: 800, height: 640 };
const figure = { marks: { crown: [0.5, 0.3], sole: [0.5, 0.4] } }; // 180 of the picture's 1800 px tall

test("close up, crown and chin are in sight, and the figure is some 1400 px tall on the screen", () => {
  const view = ontoHead({ revision, box }, figure);
  const crown = view.toScreen([600, 540]);
  const chinOfFour = view.toScreen([600, 540 + 45]);
  for (const [x, y] of [crown, chinOfFour]) assert.ok(x > 0 && x < box.width && y > 0 && y < box.height, `${x} ${y}`);
  assert.ok(180 * view.scale > 1400 && 180 * view.scale < 1500);
});

test("the nearer one looks, the surer a mark is; a tap of a finger is less sure than the cross it moves", () => {
  const near = { view: ontoHead({ revision, box }, figure) };
  const far = { view: { scale: 0.5 } };
  assert.ok(doubtOf(near) * 1200 < 0.3, "2 px on the screen are a quarter of a pixel of the picture");
  assert.equal(doubtOf(far), 2 / 600);
  assert.ok(doubtOf(far, true) > 4 * doubtOf(far));
});

test("a small figure is not enlarged beyond all measure, and arrow keys step by pixels of the screen", () => {
  const view = ontoHead({ revision, box }, { marks: { crown: [0.5, 0.3], sole: [0.5, 0.301] } });
  assert.equal(view.scale, 24);
  const [across, down] = stepOf({ revision, view });
  assert.ok(Math.abs(across * 1200 * 24 - 4) < 1e-9 && Math.abs(down * 1800 * 24 - 4) < 1e-9);
});

test("the cross begins at the mark that is there, else in the middle: it suggests no chin", () => {
  const known = { revision, box, view: ontoHead({ revision, box }, figure) };
  assert.deepEqual(cursorAt(known, figure, "crown"), [0.5, 0.3]);
  const [x, y] = cursorAt(known, figure, "chin");
  assert.ok(Math.abs(x - 0.5) < 1e-9 && y > 0.3 && y < 0.32);
});
