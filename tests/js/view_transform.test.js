import assert from "node:assert/strict";
import { test } from "node:test";
import { ViewTransform } from "../../static/js/geometry/view_transform.js";

const near = (got, wanted) => assert.ok(got.every((v, i) => Math.abs(v - wanted[i]) < 1e-9), `${got} is not ${wanted}`);
const picture = { width: 1200, height: 1700 };
const box = { width: 800, height: 600 };
const views = [new ViewTransform(), new ViewTransform(0.25, 40, -7), ViewTransform.fit(picture, box, 20), new ViewTransform(8, -3000, -9000)];

test("a point goes to the screen and back", () => {
  for (const view of views)
    for (const point of [[0, 0], [1200, 1700], [3.5, 900.25], [-200, 4000]]) near(view.toPicture(view.toScreen(point)), point);
});

test("a fitted picture lies in the middle, whole", () => {
  const view = ViewTransform.fit(picture, box, 20);
  near(view.toScreen([600, 850]), [400, 300]);
  near([view.toScreen([0, 0])[1], view.toScreen([0, 1700])[1]], [20, 580]);
});

test("what lies under the pointer stays there when zooming, also at the limits", () => {
  for (const factor of [1.2, 0.1, 400]) {
    const view = views[1].zoomedAbout([300, 200], factor, [0.1, 8]);
    near(view.toPicture([300, 200]), views[1].toPicture([300, 200]));
    assert.ok(view.scale >= 0.1 && view.scale <= 8);
  }
});

test("zooming in and out again changes nothing", () => {
  const back = views[2].zoomedAbout([10, 20], 3, [0.01, 99]).zoomedAbout([10, 20], 1 / 3, [0.01, 99]);
  near([back.scale, back.x, back.y], [views[2].scale, views[2].x, views[2].y]);
});

test("a part fills the box and stands in its middle", () => {
  const view = ViewTransform.onto([100, 200, 500, 400], box, 0, 10);
  assert.equal(view.scale, 2);
  near(view.toScreen([300, 300]), [400, 300]);
});

test("a part of no size is shown at the most", () => {
  assert.equal(ViewTransform.onto([5, 5, 5, 5], box, 0, 4).scale, 4);
});

test("the picture cannot be lost off the table", () => {
  for (const [dx, dy] of [[1e6, 0], [-1e6, 0], [0, 1e6], [0, -1e6]]) {
    const view = views[2].movedBy(dx, dy).heldIn(picture, box);
    const [left, top] = view.toScreen([0, 0]);
    const [right, bottom] = view.toScreen([1200, 1700]);
    assert.ok(left <= 720 && right >= 80 && top <= 520 && bottom >= 80);
  }
});
