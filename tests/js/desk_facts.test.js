import assert from "node:assert/strict";
import { test } from "node:test";
import { isAskedFirst, nextOpen, nextToDealWith, silentOf } from "../../static/js/screens/desk_facts.js";

const note = (id, more = {}) => ({ id, state: "open", source: "person", panel_order: id, spot: null, may: { settle: true }, here: null, ...more });
const desk = (notes, at = null) => ({ notes, note: at, showsClosed: false, revision: null, page: null });

/** The notes in the order that the key steps through them. */
function steps(notes) {
  const known = desk(notes);
  return notes.filter((one) => one.state !== "settled").map(() => {
    known.note = nextOpen(known).id;
    return known.note;
  });
}

test("notes whose spot changed come first for who may settle them, the others in reading order", () => {
  const notes = [note(1), note(2, { spot: "changed" }), note(3, { spot: "unchanged" }), note(4, { spot: "changed" })];
  assert.deepEqual(steps(notes), [2, 4, 1, 3]);
});

test("who may not settle reads in reading order", () => {
  const notes = [note(1), note(2, { spot: "changed", may: { settle: false } }), note(3)];
  assert.deepEqual(steps(notes), [1, 2, 3]);
  assert.equal(isAskedFirst(notes[1], desk(notes)), false);
});

test("a note that is told not yet waits with the others, until the next picture asks again", () => {
  const notes = [note(1), note(2, { spot: "changed" })];
  const known = { ...desk(notes), page: { current_revision: { id: 7 } }, notYet: ["2 on 7"] };
  assert.equal(isAskedFirst(notes[1], known), false);
  assert.equal(nextOpen(known).id, 1);
  assert.equal(isAskedFirst(notes[1], { ...known, page: { current_revision: { id: 8 } } }), true);
});

test("closed notes are not stepped to, and the steps go round both ways", () => {
  const notes = [note(1, { spot: "changed", state: "settled" }), note(2), note(3, { spot: "changed" })];
  assert.deepEqual(steps(notes), [3, 2]);
  assert.equal(nextOpen(desk(notes, 3), -1).id, 2);
  assert.equal(nextOpen(desk([])), null);
});

test("from a note that is dealt with one goes to the others that are asked about, before it or after it", () => {
  const notes = [note(1), note(2, { spot: "changed" }), note(3, { spot: "changed" }), note(4)];
  const next = (id, known = desk(notes, id)) => nextToDealWith(known, notes[id - 1])?.id;
  assert.deepEqual([next(2), next(3), next(1), next(4)], [3, 2, 2, 2]);
  notes[1].state = "settled";
  assert.deepEqual([next(3), next(1)], [1, 3]);
  assert.equal(nextToDealWith(desk([notes[0]], 1), notes[0]), null);
});

test("a note that was not carried to the picture of now yet is not stepped over", () => {
  const carried = { spot: "changed", panel_order: 1, here: { region: { polygon: [[0.1, 0.5], [0.3, 0.5], [0.3, 0.6]] } } };
  const notes = [note(1, carried), note(2, { ...carried, here: null }), note(3)];
  const known = { ...desk(notes, 1), revision: { id: 7 }, page: { current_revision: { id: 7 } } };
  assert.equal(nextToDealWith(known, notes[0]).id, 2);
});

test("a check that measured nothing in some panels says in which, as they are read, and why", () => {
  const revision = { panels: [{ id: 9, order: 2 }, { id: 4, order: 1 }, { id: 6, order: 3 }] };
  const of = (why) => silentOf({ numbers: { not_measured: why } }, revision);
  assert.deepEqual(of({}), []);
  assert.deepEqual(silentOf({ numbers: {} }, revision), []);
  assert.deepEqual(of({ 9: "bare", 4: "other", 77: "of a panel that is not here" }), [[1, "other"], [2, "bare"]]);
});
