import assert from "node:assert/strict";
import { test } from "node:test";
import { areSame, together } from "../../static/js/screens/critique_merge.js";

const point = (kind, body = "", more = {}) => ({ kind, body, why: "", how: "", page: null, region: null, criterion: null, ...more });
const EMPTY = ["works", "change", "ask"].map((kind) => point(kind));
const words = ({ points, came }) => [came, points.map(({ body }) => body)];

test("what was written in the other window alone comes to where it was written", () => {
  assert.deepEqual(words(together([], EMPTY, [point("works", "The light."), point("change"), point("ask")])), [1, ["The light.", "", ""]]);
  const before = [point("works", "The light."), point("change", "The lamp.")];
  assert.deepEqual(words(together(before, before, [before[0], point("change", "The lamp hangs low.")])), [1, ["The light.", "The lamp hangs low."]]);
});

test("what was written on both sides stands there twice, and nothing is dropped", () => {
  const before = [point("works"), point("change", "The lamp.")];
  const here = [point("works", "The light."), point("change", "The lamp hangs low.")];
  const there = [point("works", "The door."), point("change", "The lamp.")];
  assert.deepEqual(words(together(before, here, there)), [1, ["The light.", "The lamp hangs low.", "The door."]]);
  assert.deepEqual(words(together(before, here, before)), [0, ["The light.", "The lamp hangs low."]]);
});

test("a point left out there stays here, one left out here does not come back, and blanks around words are no change", () => {
  const before = [point("works", "The light."), point("ask", "Why?")];
  assert.deepEqual(words(together(before, before, [before[0]])), [0, ["The light.", "Why?"]]);
  assert.deepEqual(words(together(before, [before[1]], before)), [0, ["Why?"]]);
  assert.deepEqual(words(together(before, [point("works", "The light. "), before[1]], before)), [0, ["The light. ", "Why?"]]);
  assert.ok(areSame([point("works", "The light. ")], [point("works", "The light.")]));
  assert.ok(!areSame([point("works", "The light.", { page: 1 })], [point("works", "The light.")]));
});
