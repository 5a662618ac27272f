import assert from "node:assert/strict";
import { test } from "node:test";
import { bounds } from "../../static/js/geometry/page_space.js";
import { withCorner } from "../../static/js/geometry/panel_edits.js";
import {
  add, begun, bodyOf, choose, chooseBeside, chosenOf, cutBy, exchangedWith, hasChanged, mergeWith, panelUnder, remove, reshape, toPlace, undone,
} from "../../static/js/screens/panels_edit_model.js";
import { nextCorner, nudge, withLine } from "../../static/js/screens/panels_edit_nudge.js";

const box = (left, top, right, bottom) => [[left, top], [right, top], [right, bottom], [left, bottom]];
const revision = {
  id: 7,
  panels: [
    { id: 12, order: 2, polygon: box(0.1, 0.5, 0.45, 0.9), framed: true }, { id: 11, order: 1, polygon: box(0.1, 0.1, 0.9, 0.45), framed: true },
    { id: 13, order: 3, polygon: box(0.5, 0.5, 0.9, 0.9), framed: false },
  ],
};
const edit = () => begun(revision, 3);
const ids = ({ panels }) => panels.map((one) => one.id);
const close = (got, wanted) => got.forEach((v, i) => assert.ok(Math.abs(v - wanted[i]) < 1e-9, `${got} is not ${wanted}`));

test("panels stand in reading order and are stepped through and round", () => {
  assert.deepEqual(ids(edit()), [11, 12, 13]);
  assert.equal(chosenOf(chooseBeside(edit(), 1)).id, 11);
  assert.equal(chosenOf(chooseBeside(edit(), -1)).id, 13);
  assert.equal(chosenOf(chooseBeside(choose(edit(), "panel-13"), 1)).id, 11);
});

test("a cut panel keeps its identity in the part that is read first", () => {
  const cutIt = (reading) => cutBy(choose(edit(), "panel-11"), [[0.5, 0], [0.5, 1]], reading);
  assert.deepEqual(ids(cutIt("ltr")), [11, null, 12, 13]);
  assert.equal(bounds(cutIt("ltr").panels[0].polygon)[0], 0.1);
  assert.equal(bounds(cutIt("rtl").panels[0].polygon)[0], 0.5);
});

test("with no panel chosen, the one under the middle of the line is cut", () => {
  assert.deepEqual(ids(cutBy(edit(), [[0.1, 0.7], [0.5, 0.7]], "ltr")), [11, 12, null, 13]);
  assert.equal(cutBy(edit(), [[0.95, 0], [0.95, 1]], "ltr"), null);
});

test("two panels merge into the one that comes first, whichever was chosen", () => {
  for (const [chosen, other] of [["panel-12", "panel-13"], ["panel-13", "panel-12"]]) {
    const merged = mergeWith(choose(edit(), chosen), other);
    assert.deepEqual(ids(merged), [11, 12]);
    close(bounds(merged.panels[1].polygon), [0.1, 0.5, 0.9, 0.9]);
    assert.equal(merged.panels[1].framed, false);
  }
  assert.equal(hasChanged(mergeWith(choose(edit(), "panel-12"), undefined)), false);
});

test("two panels are exchanged in their places, with what is on them, and it can be taken back", () => {
  const exchanged = exchangedWith(choose(edit(), "panel-12"), "panel-13");
  assert.deepEqual(bodyOf(exchanged), [bodyOf(edit())[0], { id: 13, polygon: box(0.1, 0.5, 0.45, 0.9), framed: true }, { id: 12, polygon: box(0.5, 0.5, 0.9, 0.9), framed: false }]);
  assert.equal(chosenOf(exchanged).id, 12);
  assert.deepEqual(bodyOf(undone(exchanged)), bodyOf(edit()));
  for (const other of ["panel-12", "none", undefined]) assert.equal(hasChanged(exchangedWith(choose(edit(), "panel-12"), other)), false);
});

test("a new panel comes after the chosen one, else last; one too small to see is not taken", () => {
  assert.deepEqual(ids(add(choose(edit(), "panel-11"), [0.2, 0.2], [0.4, 0.3])), [11, null, 12, 13]);
  assert.deepEqual(ids(add(edit(), [0.2, 0.2], [0.4, 0.3])), [11, 12, 13, null]);
  assert.equal(add(edit(), [0.2, 0.2], [0.201, 0.3]).panels.length, 3);
});

test("a panel gets its place by number", () => {
  const chosen = choose(edit(), "panel-13");
  assert.deepEqual(ids(toPlace(chosen, 1)), [13, 11, 12]);
  assert.deepEqual(ids(toPlace(chosen, 99)), [11, 12, 13]);
  assert.equal(hasChanged(toPlace(chosen, 3)), false);
});

test("arrow keys move the panel, its right or lower edge, a corner, or a cut that is not made yet", () => {
  const chosen = choose(edit(), "panel-12");
  close(bounds(nudge(chosen, [0.01, 0]).panels[1].polygon), [0.11, 0.5, 0.46, 0.9]);
  close(bounds(nudge(chosen, [0.01, 0], true).panels[1].polygon), [0.1, 0.5, 0.46, 0.9]);
  close(bounds(nudge(chosen, [0, -0.01], true).panels[1].polygon), [0.1, 0.5, 0.45, 0.89]);
  close(nudge(nextCorner(chosen), [-0.01, 0]).panels[1].polygon[0], [0.09, 0.5]);
  const line = nudge(withLine(chosen, true), [0.05, 0]).line;
  close(line[0], [0.325, 0.2]);
  assert.deepEqual(nudge(edit(), [0.01, 0]).panels, edit().panels);
});

test("corners are taken one after the other, then the whole panel again", () => {
  let at = choose(edit(), "panel-11");
  for (const corner of [0, 1, 2, 3, null]) {
    at = nextCorner(at);
    assert.equal(at.corner, corner);
  }
});

test("every change is taken back one by one, and a drag is one change", () => {
  const chosen = choose(edit(), "panel-11");
  const dragged = [0.2, 0.25, 0.3].reduce((one, x, k) => reshape(one, withCorner(chosen.panels[0].polygon, 0, [x, 0.1]), k > 0), chosen);
  assert.equal(dragged.panels[0].polygon[0][0], 0.3);
  const then = remove(toPlace(dragged, 2));
  assert.deepEqual(ids(then), [12, 13]);
  assert.deepEqual(ids(undone(then)), [12, 11, 13]);
  assert.deepEqual(undone(undone(undone(then))).panels, edit().panels);
  assert.equal(undone(edit()).past.length, 0);
});

test("an outline that encloses nothing is not taken", () => {
  const chosen = choose(edit(), "panel-11");
  assert.equal(reshape(chosen, box(0.1, 0.1, 0.1, 0.9)), chosen);
});

test("a tap takes the inset, not the panel around it", () => {
  const withInset = add(edit(), [0.2, 0.2], [0.3, 0.3]);
  assert.equal(panelUnder(withInset, [0.25, 0.25]).id, null);
  assert.equal(panelUnder(withInset, [0.8, 0.2]).id, 11);
  assert.equal(panelUnder(withInset, [0.01, 0.01]), null);
});

test("the server is sent the panels in order, new ones without a number", () => {
  const body = bodyOf(add(edit(), [0.2, 0.2], [0.4, 0.3]));
  assert.deepEqual(body.map((one) => one.id), [11, 12, 13, undefined]);
  assert.deepEqual(Object.keys(body[3]), ["polygon", "framed"]);
});
