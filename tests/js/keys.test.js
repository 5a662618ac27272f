import assert from "node:assert/strict";
import { test } from "node:test";
import { isBrowsersOwn } from "../../static/js/gestures/keys.js";

const pressed = (key, held = [], more = {}) => isBrowsersOwn(/** @type {any} */ ({
  key, ctrlKey: held.includes("Ctrl"), metaKey: held.includes("Meta"), altKey: held.includes("Alt"),
  getModifierState: (name) => held.includes(name), ...more,
}));

test("what the browser does itself with a letter is left to it", () => {
  assert.deepEqual([["d", ["Alt"]], ["E", ["Alt"]], ["ö", ["Alt"]], ["1", ["Alt"]], ["f", ["Ctrl"]], ["c", ["Meta"]]].map((one) => pressed(...one)), Array(6).fill(true));
});

test("letters alone, arrows with Alt and signs that need Alt to be typed are the screen's", () => {
  assert.deepEqual([["d"], ["ArrowUp", ["Alt"]], ["[", ["Alt"]], ["[", ["AltGraph", "Ctrl", "Alt"]], ["?", ["Shift"]]].map((one) => Boolean(pressed(...one))), Array(5).fill(false));
});
