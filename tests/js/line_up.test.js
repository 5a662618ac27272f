import assert from "node:assert/strict";
import { test } from "node:test";
import { headTicks, layOut, partOfSheet } from "../../static/js/geometry/line_up.js";

test("the cast stands side by side from the smallest, and who has no height stands nowhere", () => {
  const { places, wide_m: wide, rules_m: rules } = layOut([{ id: 1, height_m: 1.8 }, { id: 2, height_m: null }, { id: 3, height_m: 0.9 }]);
  assert.deepEqual(places.map(({ character }) => character.id), [3, 1]);
  const [small, tall] = places;
  assert.ok(small.x_m + small.wide_m / 2 < tall.x_m - tall.wide_m / 2);
  assert.ok(tall.x_m + tall.wide_m / 2 < wide);
  assert.deepEqual(rules, [0.5, 1, 1.5, 2]);
  assert.ok(layOut([{ height_m: 90 }]).rules_m.length < 12);
  assert.deepEqual(layOut([]).places, []);
});

test("head ticks fall whole heads below the crown", () => {
  assert.deepEqual(headTicks(2, 4), [1.5, 1, 0.5]);
  assert.equal(headTicks(1.74, 5.7).length, 5);
  assert.deepEqual(headTicks(1.7, null), []);
});

test("the part of a sheet holds crown and soles, and its scale is the figure's", () => {
  const sheet = { landmarks: { crown: [0.25, 0.1], sole: [0.25, 0.9] } };
  const cut = partOfSheet(sheet, { width_px: 2000, height_px: 1000 }, 1.6);
  assert.ok(Math.abs(cut.px_per_m - 500) < 1e-9);
  assert.deepEqual(cut.sole_px, [500, 900]);
  const [left, top, wide, high] = cut.part;
  assert.ok(left < 500 && left + wide > 500 && top < 100 && top + high > 900);
  assert.equal(partOfSheet({ landmarks: { crown: [0, 0] } }, { width_px: 10, height_px: 10 }, 1), null);
  assert.equal(partOfSheet({ landmarks: { crown: [0.5, 0.5], sole: [0.5, 0.5] } }, { width_px: 10, height_px: 10 }, 1), null);
});

test("where the arms are marked, the part ends a hand beside them: the next view on the sheet is not in it", () => {
  const landmarks = { crown: [0.25, 0.1], sole: [0.25, 0.9], "wrist-left": [0.2, 0.5], "wrist-right": [0.31, 0.5] };
  const [left, , wide] = partOfSheet({ landmarks }, { width_px: 2000, height_px: 1000 }, 1.6).part;
  assert.ok(left < 400 && left + wide > 620 && left + wide < 700, `${left} ${wide}`);
});
