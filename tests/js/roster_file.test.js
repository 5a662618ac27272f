import assert from "node:assert/strict";
import { test } from "node:test";
import { rosterText } from "../../static/js/screens/roster_file.js";

const ROSTER = "alias;minor\nJürgen;no\n";
const bytesOf = (numbers) => new Uint8Array(numbers).buffer;
const oneByteEach = [...ROSTER].map((letter) => letter.charCodeAt(0));

test("a roster is read as it was written, whichever way a spreadsheet writes letters", () => {
  assert.deepEqual(rosterText(new TextEncoder().encode(ROSTER).buffer), { text: ROSTER, isGuessed: false });
  assert.deepEqual(rosterText(bytesOf([0xff, 0xfe, ...oneByteEach.flatMap((code) => [code, 0])])), { text: ROSTER, isGuessed: false });
});

test("one that is in neither is read as Windows-1252, and that is said", () => {
  assert.deepEqual(rosterText(bytesOf(oneByteEach)), { text: ROSTER, isGuessed: true });
});
