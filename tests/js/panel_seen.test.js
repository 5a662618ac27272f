import assert from "node:assert/strict";
import { test } from "node:test";
import { levelAcross, seenIn } from "../../static/js/geometry/panel_seen.js";
import { viewOfPanel } from "../../static/js/geometry/panel_view.js";
import { boxAt } from "../../static/js/geometry/perspective_grid.js";
import { standing } from "../../static/js/screens/posts_model.js";

const POLYGON = [[0.1, 0.1], [0.9, 0.1], [0.9, 0.5], [0.1, 0.5]];
const REVISION = { width_px: 1000, height_px: 2000, checks: [{ check: "perspective", numbers: { panels: [{ panel: 7, eye_level: null, vanishing_points: [] }] } }] };
const size = { width: 1000, height: 2000 };
// A level camera, 800 px wide at its picture of 1600 x 1000, turned by nothing.
const PERSPECTIVE = {
  eye_level: [[0, 0.5], [1, 0.5]], focal_px: 800,
  vanishing_points: [{ point: [0.5, 0.5, 1], role: "level" }, { point: [0, -1, 0], role: "upright" }, { point: [1, 0, 0], role: "level" }],
};
const STILL = { width_px: 1600, height_px: 1000, perspective: PERSPECTIVE, camera: { eye_height_m: 1.6 } };
// As large as it is, its corner 500 px left of the page and 100 px below its top: it looks at (300, 600).
const PLACE = { in_still: [[0, 0], [1, 1]], on_page: [[-0.5, 0.05], [1.1, 0.55]], bounds: [0.1, 0.1, 0.9, 0.5] };
const near = (got, wanted) => got.forEach((v, i) => assert.ok(Math.abs(v - wanted[i]) < 1e-6, `${got} is not ${wanted}`));
const panel = (row) => ({ id: 7, polygon: POLYGON, row });

test("a panel whose lines show nothing is seen as the still placed under it has it", () => {
  const view = viewOfPanel(seenIn(panel({ still: STILL, still_place: PLACE }), REVISION), POLYGON, size, 1.6);
  near([...view.centre, view.focalPx, ...view.horizon], [300, 600, 800, 0, 1, -600]);
  assert.equal(view.focalIsAssumed, false);
  // 8 m ahead, the floor lies 1.6 m below the eye: 160 px. A door there is 100 px a metre.
  const door = boxAt(view, [500, 760], { widthM: 0.9, heightM: 2.1 });
  near(door.corners.flat(), [455, 760, 545, 760, 545, 760, 455, 760, 455, 550, 545, 550, 545, 550, 455, 550]);
});

test("a figure post stands there, and goes along when the panel is drawn elsewhere", () => {
  const lower = POLYGON.map(([x, y]) => [x, y + 0.3]);
  const row = { still: STILL, still_place: PLACE };
  for (const [polygon, down] of [[POLYGON, 0], [lower, 0.3]]) {
    const post = standing({ foot: [0.5, 0.38 + down], height_m: 1.6, name: "Pim" }, { id: 7, polygon, row }, REVISION, []);
    near(post.top, [0.5, 0.3 + down]);
  }
});

test("what was set by hand stands above the still, and what the lines show above both", () => {
  const row = { still: STILL, still_place: PLACE, given_perspective: { eye_level: [[0.1, 0.2], [0.9, 0.2]], points: [[0.4, 0.2]], bounds: [0.1, 0.1, 0.9, 0.5] } };
  near(seenIn(panel(row), REVISION).eye_level.flat(), [0.1, 0.2, 0.9, 0.2]);
  near(seenIn(panel(row), REVISION).vanishing_points[0].point, [0.4, 0.2, 1]);
  const measured = { panel: 7, eye_level: [[0.1, 0.4], [0.9, 0.4]], vanishing_points: [] };
  assert.equal(seenIn(panel(row), { ...REVISION, checks: [{ check: "perspective", numbers: { panels: [measured] } }] }), measured);
});

test("where nothing is known it is null", () => {
  for (const row of [undefined, {}, { still: STILL }, { still: { ...STILL, perspective: { reason: "No lines." } }, still_place: PLACE }])
    assert.equal(seenIn(panel(row), REVISION), null);
});

test("the eye level to be set begins as it was set here, else as the still has it, else in the middle", () => {
  const row = { still: STILL, still_place: PLACE };
  near(levelAcross(panel(row), REVISION).flat(), [0.1, 0.3, 0.9, 0.3]);
  near(levelAcross(panel({ ...row, given_perspective: { eye_level: [[0.3, 0.2], [0.5, 0.3]], bounds: [0.1, 0.1, 0.9, 0.5] } }), REVISION).flat(), [0.1, 0.1, 0.9, 0.5]);
  const high = { ...STILL, perspective: { ...PERSPECTIVE, eye_level: [[0, 0.2], [1, 0.2]] } };
  near(levelAcross(panel({ still: high, still_place: PLACE }), REVISION).flat(), [0.1, 0.15, 0.9, 0.15]);
  near(levelAcross(panel({}), REVISION).flat(), [0.1, 0.3, 0.9, 0.3]);
});
