import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { heightAt, postAt } from "../../static/js/geometry/figure_posts.js";
import { panelAtHand } from "../../static/js/screens/posts_model.js";

const vectors = JSON.parse(readFileSync(new URL("../vectors/figure_posts.json", import.meta.url)));
const viewOf = (row) => ({ horizon: row.horizon, eyeHeightM: row.eye_height_m, upright: row.upright });
const near = (got, wanted) => {
  assert.equal(got.length, wanted.length);
  got.forEach((v, i) => assert.ok(Math.abs(v - wanted[i]) <= 1e-5 + 1e-7 * Math.abs(wanted[i]), `${got} is not ${wanted}`));
};

for (const row of vectors.posts)
  test(`a post reaches where the camera sees its top, with a tick for each head: ${row.name}`, () => {
    const post = postAt(row.foot, row.height_m, viewOf(row), { heads: row.heads, floorM: row.floor_m });
    near(post.top, row.top);
    near(post.ticks.flatMap((tick) => tick.middle), row.ticks.flat());
    const along = [post.top[0] - row.foot[0], post.top[1] - row.foot[1]];
    for (const { ends: [a, b] } of post.ticks) assert.ok(Math.abs((b[0] - a[0]) * along[0] + (b[1] - a[1]) * along[1]) < 1e-3);
    near([heightAt(row.foot, row.top, viewOf(row), row.floor_m)], [row.height_m]);
  });

for (const row of vectors.no_post)
  test(`no post: ${row.name}`, () => assert.deepEqual(postAt(row.foot, row.height_m, viewOf(row), { heads: 7, floorM: row.floor_m }), { reason: row.reason }));

for (const row of vectors.heights)
  test(`a height is read along the upright: ${row.name}`, () => near([heightAt(row.foot, row.top, viewOf(row), row.floor_m)], [row.height_m]));

for (const row of vectors.no_height)
  test(`no height: ${row.name}`, () => assert.deepEqual(heightAt(row.foot, row.top, viewOf(row), row.floor_m), { reason: row.reason }));

test("the eye's height is asked for the panel of the post in hand, else for the one in which the last post was put", () => {
  const square = (x) => [[x, 0], [x + 0.4, 0], [x + 0.4, 1], [x, 1]];
  const panels = [{ id: 1, polygon: square(0) }, { id: 2, polygon: square(0.5) }];
  assert.equal(panelAtHand(panels, { chosen: { panel: 1, index: 0 }, cursor: [0.7, 0.5] }).id, 1);
  assert.equal(panelAtHand(panels, { chosen: null, cursor: [0.7, 0.5] }).id, 2);
  assert.equal(panelAtHand(panels, { chosen: null, cursor: [0.45, 0.5] }), null);
});
