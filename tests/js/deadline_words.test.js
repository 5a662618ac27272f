import assert from "node:assert/strict";
import { test } from "node:test";
import { when } from "../../static/js/elements/words.js";
import { dueWords, handInWords, isPast, wouldBeLate } from "../../static/js/screens/deadline_words.js";

const DUE = "2026-11-30T08:19:00Z";
const ONE = { due_at: DUE, taken_until: "2026-12-03T08:19:00Z", is_extended: false, handed_in: null, refusal: null };
const after = (minutes) => new Date(Date.parse(DUE) + minutes * 60_000);
const told = (minutes, change = {}) => dueWords({ ...ONE, ...change }, 10, after(minutes)).replace(`due ${when(DUE)}`, "");

test("before its deadline a stage is due", () => {
  assert.equal(told(-1), "");
  assert.equal(told(-1, { is_extended: true }), " (more time given)");
});

test("after it, it says how long ago that was and what is taken still", () => {
  assert.match(told(1), /^, 1 minute ago; in time until .* all the same$/);
  assert.equal(told(14), `, 14 minutes ago; taken as late until ${when(ONE.taken_until)}`);
  assert.equal(told(14, { taken_until: null }), ", 14 minutes ago; taken as late");
  assert.equal(told(4321), ", 3 days ago; no longer taken");
});

test("what is handed in, or is waited for no more, is not past", () => {
  assert.equal(told(14, { handed_in: {} }), "");
  for (const code of ["class-over", "further-on"]) assert.equal(isPast({ ...ONE, refusal: { code } }, after(14)), false);
  assert.equal(isPast({ ...ONE, refusal: { code: "pages-missing" } }, after(14)), true);
});

test("handing in again after the deadline would count as late, where what is in is in time", () => {
  const late = (minutes, handed_in) => wouldBeLate({ ...ONE, handed_in }, 10, after(minutes));
  assert.deepEqual([-1, 10, 11, 41].map((minutes) => late(minutes, { minutes_late: 0 })), [0, 0, 11, 41]);
  assert.deepEqual([late(41, null), late(41, { minutes_late: 20 })], [0, 0]);
});

test("who drew anew after the hand-in reads that it is not in, and why it cannot be; who handed all in reads nothing", () => {
  const words = (handed_in, has_newer_pictures, code) => handInWords({ handed_in, has_newer_pictures, refusal: code && { code, reason: code } });
  assert.deepEqual(words(null, false, "pages-missing"), ["pages-missing"]);
  assert.deepEqual(words({}, true, null), ["What you drew since is not handed in yet."]);
  for (const code of ["too-late", "class-over", "further-on"]) assert.deepEqual(words({}, true, code), ["What you drew since is not handed in.", code]);
  for (const code of ["already-handed-in", "class-over", "further-on"]) assert.deepEqual(words({}, false, code), []);
  assert.deepEqual(words({}, false, "pages-missing"), ["pages-missing"]);
  assert.deepEqual(words(null, false, null), []);
});
