import assert from "node:assert/strict";
import { test } from "node:test";
import { chooseMargins, standInMargin } from "../../static/js/geometry/margin_layout.js";

/** A small generator with a seed (mulberry32), so that every run sees the same notes. */
function seeded(seed) {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const thirty = (random) =>
  Array.from({ length: 30 }, (_, id) => ({ id, anchor: random() * 700, x: random(), height: 30 + random() * 60 }));

function assertApart(notes, tops, gap) {
  const inOrder = [...notes].sort((a, b) => tops.get(a.id) - tops.get(b.id));
  inOrder.forEach((note, i) => {
    const next = inOrder[i + 1];
    if (next) assert.ok(tops.get(next.id) - tops.get(note.id) - note.height >= gap - 1e-6, `${note.id} runs into ${next.id}`);
  });
}

test("thirty notes do not run into each other and keep the order of their spots", () => {
  for (let seed = 1; seed <= 40; seed++) {
    const notes = thirty(seeded(seed));
    const { tops, bottom } = standInMargin(notes, { top: 12, bottom: 700, gap: 8 });
    assertApart(notes, tops, 8);
    const byAnchor = [...notes].sort((a, b) => a.anchor - b.anchor).map((note) => tops.get(note.id));
    assert.deepEqual(byAnchor, [...byAnchor].sort((a, b) => a - b));
    assert.ok(Math.min(...tops.values()) >= 12 - 1e-6);
    assert.ok(bottom >= Math.max(...tops.values()));
  }
});

test("notes with room around them stand at their wished height", () => {
  const { tops } = standInMargin([{ id: "a", anchor: 100, height: 40 }, { id: "b", anchor: 300, height: 40 }]);
  assert.deepEqual([...tops], [["a", 100], ["b", 300]]);
});

test("thirty notes at one height spread evenly about it", () => {
  const notes = Array.from({ length: 30 }, (_, id) => ({ id, anchor: 2000, height: 20 }));
  const { tops } = standInMargin(notes, { gap: 10 });
  const mean = [...tops.values()].reduce((a, b) => a + b) / 30;
  assert.ok(Math.abs(mean - 2000) < 1e-6);
  assertApart(notes, tops, 10);
});

test("a heavy note keeps its height and the others give way", () => {
  const notes = [{ id: "a", anchor: 200, height: 50 }, { id: "b", anchor: 205, height: 300, weight: 1e4 }, { id: "c", anchor: 210, height: 50 }];
  const { tops } = standInMargin(notes, { gap: 8 });
  assert.ok(Math.abs(tops.get("b") - 205) < 0.1);
  assertApart(notes, tops, 8);
});

test("notes that fit above the bottom stay above it; those that do not begin at the top", () => {
  const few = [{ id: 1, anchor: 690, height: 100 }, { id: 2, anchor: 695, height: 100 }];
  assert.ok(standInMargin(few, { bottom: 700, gap: 8 }).bottom <= 700 + 1e-6);
  const many = Array.from({ length: 30 }, (_, id) => ({ id, anchor: 600, height: 100 }));
  assert.equal(standInMargin(many, { top: 5, bottom: 700, gap: 8 }).tops.get(0), 5);
});

test("an empty margin has no notes and ends where it begins", () => {
  assert.deepEqual(standInMargin([], { top: 9 }), { tops: new Map(), bottom: 9 });
});

test("a note stands in the nearer margin while that has room", () => {
  const sides = chooseMargins([{ id: 1, x: 0.2, height: 40 }, { id: 2, x: 0.8, height: 40 }], 700);
  assert.deepEqual([...sides], [[1, "left"], [2, "right"]]);
});

test("a full margin gives those nearest the middle away", () => {
  const notes = Array.from({ length: 20 }, (_, id) => ({ id, x: id / 50, height: 60 }));
  const sides = chooseMargins(notes, 700);
  const left = notes.filter((note) => sides.get(note.id) === "left");
  assert.ok(left.length < 20 && left.length >= 10);
  assert.ok(left.every((note) => note.x < Math.min(...notes.filter((n) => sides.get(n.id) === "right").map((n) => n.x))));
});
