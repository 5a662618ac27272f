import assert from "node:assert/strict";
import { test } from "node:test";
import { areSame, metWith } from "../../static/js/screens/panels_edit_meet.js";
import { add, begun, bodyOf, choose, cutBy, hasChanged, panelsOf, remove, reshape, toPlace, undone } from "../../static/js/screens/panels_edit_model.js";

const box = (left, top, right, bottom) => [[left, top], [right, top], [right, bottom], [left, bottom]];
const shape = (id, polygon) => ({ id, polygon, framed: true });
const revisionOf = (panels) => ({ id: 7, panels: panels.map((one, i) => ({ ...one, order: i + 1 })) });
const [A, B, C] = [shape(11, box(0.1, 0.1, 0.9, 0.3)), shape(12, box(0.1, 0.35, 0.9, 0.6)), shape(13, box(0.1, 0.65, 0.9, 0.9))];
const edit = () => begun(revisionOf([A, B, C]), 3);
const wider = (id, left = 0.05) => (one) => reshape(choose(one, `panel-${id}`), box(left, 0.1, 0.95, 0.3));
const ids = ({ panels }) => panels.map((one) => one.id);
const lefts = ({ panels }) => panels.map((one) => one.polygon[0][0]);
const theirIds = ({ theirs }) => theirs.map((one) => one.id);

test("what each corrected in another panel stands beside the other's", () => {
  const met = metWith(wider(12)(edit()), revisionOf([{ ...A, polygon: box(0.2, 0.1, 0.9, 0.3) }, B]), 4);
  assert.deepEqual([ids(met), lefts(met), met.version], [[11, 12], [0.2, 0.05], 4]);
  assert.deepEqual(theirIds(met), []);
});

test("where both corrected a panel one's own stays, and theirs is shown beside it", () => {
  const theirs = revisionOf([{ ...A, polygon: box(0.2, 0.1, 0.9, 0.3) }, B, C]);
  for (const mine of [wider(11)(edit()), remove(choose(edit(), "panel-11"))]) {
    const met = metWith(mine, theirs, 4);
    assert.deepEqual([ids(met), theirIds(met)], [ids(mine), [11]]);
    assert.ok(!lefts(met).includes(0.2));
  }
});

test("a panel that one took away and the other corrected stays", () => {
  const met = metWith(wider(11)(edit()), revisionOf([B, C]), 4);
  assert.deepEqual([ids(met), lefts(met)], [[11, 12, 13], [0.05, 0.1, 0.1]]);
});

test("new panels of both are there, each behind what it came after; the same one is there once and keeps its number", () => {
  const mine = add(choose(edit(), "panel-11"), [0.2, 0.15], [0.4, 0.25]);
  const apart = metWith(mine, revisionOf([A, B, shape(20, box(0.5, 0.4, 0.7, 0.5)), C]), 4);
  assert.deepEqual(ids(apart), [11, null, 12, 20, 13]);
  const alike = metWith(mine, revisionOf([A, shape(20, box(0.2, 0.15, 0.41, 0.25)), B, C]), 4);
  assert.deepEqual([ids(alike), theirIds(alike)], [[11, 20, 12, 13], [20]]);
  assert.equal(bodyOf(alike)[1].polygon[2][0], 0.4);
  assert.equal(new Set(alike.panels.map(({ key }) => key)).size, 4);
});

test("two that cut the same panel in the same place have two parts, not three", () => {
  const cutHere = cutBy(choose(edit(), "panel-12"), [[0.5, 0.3], [0.5, 0.7]], "ltr");
  const met = metWith(cutHere, revisionOf([A, shape(12, box(0.1, 0.35, 0.52, 0.6)), shape(20, box(0.52, 0.35, 0.9, 0.6)), C]), 4);
  assert.deepEqual(ids(met), [11, 12, 20, 13]);
  assert.deepEqual(theirIds(met), [12, 20]);
});

test("the order is that of whoever changed it, and one's own where both did", () => {
  const theirs = revisionOf([C, A, B]);
  assert.deepEqual(ids(metWith(wider(12)(edit()), theirs, 4)), [13, 11, 12]);
  assert.deepEqual(ids(metWith(toPlace(choose(edit(), "panel-12"), 1), theirs, 4)), [12, 11, 13]);
});

test("it goes on from theirs: met again there is nothing new, and undone it is what one had", () => {
  const mine = wider(12)(edit());
  const theirs = revisionOf([{ ...A, polygon: box(0.2, 0.1, 0.9, 0.3) }, B, C]);
  const met = metWith(mine, theirs, 4);
  assert.ok(areSame(met.base, panelsOf(theirs)));
  assert.deepEqual(metWith(met, theirs, 5).panels, met.panels);
  assert.deepEqual(undone(met).panels, mine.panels);
  assert.ok(hasChanged(met));
});

test("what arrived is known by its shapes though new panels have numbers now", () => {
  const mine = add(choose(edit(), "panel-11"), [0.2, 0.15], [0.4, 0.25]);
  const kept = panelsOf(revisionOf([A, shape(20, box(0.2, 0.15, 0.4, 0.25)), B, C]));
  assert.ok(areSame(mine.panels, kept));
  assert.ok(!areSame(edit().panels, kept));
  assert.ok(!areSame(mine.panels, [kept[0], { ...kept[1], framed: false }, kept[2], kept[3]]));
  assert.ok(!areSame(toPlace(choose(edit(), "panel-13"), 1).panels, panelsOf(revisionOf([A, B, C]))));
});
