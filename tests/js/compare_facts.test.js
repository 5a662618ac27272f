import assert from "node:assert/strict";
import { test } from "node:test";
import { layersOf, MODES, notesOnPair, pairOf, panelBeside, placeSeen, placesOf, wordsBetween } from "../../static/js/screens/compare_facts.js";

const revision = (id, more = {}) => ({ id, number: id, state: "ready", stage: "pencil", alternate: "A", panel: null, renditions: [{}], changes: null, ...more });
const ids = (pair) => pair && [pair.older.id, pair.newer.id];

test("without a word in the address, the page's own picture lies on the one that it came from", () => {
  const rows = [revision(1), revision(2), revision(3, { alternate: "B" }), revision(4, { changes: { before: 2 } })];
  assert.deepEqual(ids(pairOf(rows, { current: 4 })), [2, 4]);
  assert.deepEqual(ids(pairOf(rows, { current: 3 })), [2, 3]);
});

test("what is asked for lies there, the older one below, whichever way it was asked", () => {
  const rows = [revision(1), revision(2), revision(3)];
  assert.deepEqual(ids(pairOf(rows, { before: 1, after: 3 })), [1, 3]);
  assert.deepEqual(ids(pairOf(rows, { before: 3, after: 1 })), [1, 3]);
  assert.deepEqual(ids(pairOf(rows, { before: 2, after: 2, current: 3 })), [1, 2]);
  assert.deepEqual(ids(pairOf(rows, { before: 99, after: 3 })), [2, 3]);
  assert.deepEqual(ids(pairOf(rows, { after: 1 })), [1, 2]);
  assert.deepEqual(ids(pairOf(rows, { current: 1 })), [1, 2]);
});

test("a try at one panel, a refused picture and one that is still being read are left out", () => {
  const rows = [revision(1), revision(2, { panel: 7 }), revision(3, { state: "refused" }), revision(4, { renditions: [] })];
  assert.equal(pairOf(rows, {}), null);
  assert.deepEqual(ids(pairOf([...rows, revision(5)], { before: 2 })), [1, 5]);
});

test("words are told only between two revisions that follow one another", () => {
  const newer = revision(3, { changes: { before: 2, panels: [{ panel: 8, word: "touched" }], gone: [] } });
  assert.equal(wordsBetween({ older: revision(2), newer }).get(8).word, "touched");
  assert.equal(wordsBetween({ older: revision(1), newer }).size, 0);
});

test("held down, the older sheet alone is seen in every way but side by side", () => {
  for (const [mode] of MODES) {
    const seen = layersOf({ mode, isFlipped: true, fade: 30, edge: 20 });
    assert.deepEqual([seen.older, seen.newer, seen.differs], mode === "side" ? [1, 1, 0] : [1, 0, 0]);
  }
});

test("each way shows its own part of the newer sheet", () => {
  const known = { isFlipped: false, fade: 30, edge: 20 };
  assert.equal(layersOf({ ...known, mode: "fade" }).newer, 0.3);
  assert.deepEqual(layersOf({ ...known, mode: "split" }), { older: 1, newer: 1, differs: 0, clip: 0.2 });
  assert.equal(layersOf({ ...known, mode: "flip" }).clip, 0);
  assert.deepEqual(layersOf({ ...known, mode: "differs" }), { older: 0, newer: 0, differs: 1, clip: 0 });
});

test("panels are stepped through in reading order and round again", () => {
  const newer = { panels: [{ id: 5, order: 2 }, { id: 4, order: 1 }] };
  assert.equal(panelBeside({ newer, panel: null }, 1).id, 4);
  assert.equal(panelBeside({ newer, panel: null }, -1).id, 5);
  assert.equal(panelBeside({ newer, panel: 5 }, 1).id, 4);
  assert.equal(panelBeside({ newer: { panels: [] }, panel: null }, 1), null);
});

// A map that shifts by a tenth of the width: both sheets are 1000 px wide and 2000 px high.
const flat = [0, 1, 2, 3].map(() => [0, 1, 2, 3].map(() => [0, 0]));
const shifted = { size_before: [1000, 2000], size_after: [1000, 2000], H_before_to_after: [[1, 0, 100], [0, 1, 0], [0, 0, 1]], local_shifts: flat, quality: 0.8 };
const pair = { older: { id: 1 }, newer: { id: 2 }, steps: [shifted], wantsRegistered: true, isFlipped: false };
const at = (x, y) => ({ point: [x, y] });
const near = (place, x, y) => assert.deepEqual(place.region.point.map((v) => Math.round(v * 1e6) / 1e6), [x, y]);

test("a note from the older sheet goes along to the newer one by their map, or stands where it was carried to", () => {
  const note = { scope: "region", revision: 1, region: at(0.2, 0.5), lines: [{ kind: "arrow", points: [[0.1, 0.1], [0.2, 0.5]] }], here: null };
  const { older, newer } = placesOf(note, pair);
  near(older, 0.3, 0.5);
  near(newer, 0.3, 0.5);
  assert.deepEqual(newer.lines[0].points.map(([x]) => Math.round(x * 1e6) / 1e6), [0.2, 0.3]);
  near(placesOf({ ...note, here: { revision: 2, region: at(0.31, 0.5), lines: [] } }, pair).newer, 0.31, 0.5);
});

test("left as they were uploaded, each sheet has the note where it stands on that sheet itself", () => {
  const note = { scope: "region", revision: 1, region: at(0.2, 0.5), here: null };
  const { older, newer } = placesOf(note, { ...pair, wantsRegistered: false });
  near(older, 0.2, 0.5);
  near(newer, 0.3, 0.5);
  near(placeSeen(note, { ...pair, wantsRegistered: false, isFlipped: true }), 0.2, 0.5);
  assert.equal(placesOf(note, { ...pair, steps: [] }).newer, null);
  near(placeSeen(note, { ...pair, steps: [] }), 0.2, 0.5);
});

test("notes of the page, and those that stand on one of the two sheets, are told; others are not", () => {
  const on = (id, revision, here = null) => ({ id, scope: "region", revision, region: at(0.5, 0.5), here });
  const notes = [on(1, 1), on(2, 2), on(3, 7), on(4, 7, { revision: 2, region: at(0.1, 0.1), lines: [] }), { id: 5, scope: "page", revision: null, region: null, here: null }];
  assert.deepEqual(notesOnPair(notes, pair).map((note) => note.id), [1, 2, 4, 5]);
  assert.deepEqual(notesOnPair(notes, { older: null, newer: null }), []);
});
