import assert from "node:assert/strict";
import { test } from "node:test";

// The module reads the width of the screen when it comes.
globalThis.matchMedia = () => ({ matches: false });
const { groupsOf } = await import("../../static/js/screens/note_list_dialog.js");

const notes = [
  { id: 1, panel_order: 2, state: "settled", tone: "must", source: "person" },
  { id: 2, panel_order: null, state: "open", tone: "ask", source: "person" },
  { id: 3, panel_order: 2, state: "open", tone: "try", source: "measured" },
];
const listed = (by) => groupsOf(notes, by).map(([name, some]) => [name, some.map(({ id }) => id)]);

test("notes are listed by panel, state and tone", () => {
  assert.deepEqual(listed("panel"), [["On the page", [2]], ["Panel 2", [1, 3]]]);
  assert.deepEqual(listed("state"), [["Open", [2, 3]], ["Settled", [1]]]);
  assert.deepEqual(listed("tone"), [["Must", [1]], ["Ask", [2]], ["Measured", [3]]]);
});

test("what lies on another picture has a group of its own behind the panels", () => {
  const astray = { id: 4, panel_order: 1, state: "open", tone: "try", source: "person", astray: { why: "picture", revision: 2, alternate: "B" } };
  assert.deepEqual(groupsOf([astray, ...notes], "panel").map(([name]) => name), ["On the page", "Panel 2", "Not on this picture"]);
});
