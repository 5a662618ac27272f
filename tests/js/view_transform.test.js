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

test("a picture that fits stays in its frame, whole, wherever it is moved", () => {
  for (const [dx, dy] of [[1e6, 0], [-1e6, 0], [0, 1e6], [0, -1e6], [-30, 12]]) {
    const view = views[2].movedBy(dx, dy).heldIn(picture, box);
    const [[left, top], [right, bottom]] = [[0, 0], [1200, 1700]].map((corner) => view.toScreen(corner));
    assert.ok(left > -1e-9 && right < 800 + 1e-9 && top > -1e-9 && bottom < 600 + 1e-9);
    assert.equal(view.scale, views[2].scale);
  }
});

test("of a picture that is larger than its frame half of each side stays covered, and any spot can lie in the middle", () => {
  for (const [dx, dy] of [[1e6, 1e6], [-1e6, -1e6], [1e6, -1e6]]) {
    const view = new ViewTransform(2, 0, 0).movedBy(dx, dy).heldIn(picture, box);
    const [[left, top], [right, bottom]] = [[0, 0], [1200, 1700]].map((corner) => view.toScreen(corner));
    assert.ok(left <= 400 && right >= 400 && top <= 300 && bottom >= 300);
  }
  for (const [x, y] of [[0, 0], [1200, 0], [600, 1700]]) {
    const view = ViewTransform.onto([x - 1, y - 1, x + 1, y + 1], box, 0, 2);
    near(Object.values(view.heldIn(picture, box)), Object.values(view));
  }
});

test("where only one side fits, only the other one moves out", () => {
  const view = new ViewTransform(0.5, 0, 0).movedBy(-500, -800).heldIn(picture, box);
  near([view.x, view.y], [0, 300 - 850]);
});
