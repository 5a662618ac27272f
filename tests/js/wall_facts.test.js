import assert from "node:assert/strict";
import { test } from "node:test";
import { EVERYTHING, aheadWords, filterAsSearch, filterIn, fits, isFiltered, newsWords, openNotes, waitingWords, waitsForMe } from "../../static/js/screens/wall_facts.js";

const wim = { id: 1, name: "Wim", username: "wim" };
const artist = { me: { id: 1 }, may: { draw: true, review: false, run_board: true } };
const editor = { me: { id: 2 }, may: { draw: false, review: true, run_board: true } };
const alone = { me: { id: 1 }, may: { draw: true, review: true, run_board: true } };
const page = (more = {}) => ({
  stage: "pencil", waits_for: "artist", drawn_by: wim, answered_notes: 0, panels_sent_back: 0, panels_handed_in: 0,
  open_notes: { must: 0, try: 0, ask: 0, keep: 0, measured: 0 }, new: { pictures: 0, notes: 0, moves: 0 }, ...more,
});

test("whose turn it is, in words", () => {
  const handedIn = page({ waits_for: "reviewer" });
  assert.deepEqual([artist, editor, alone].map((who) => waitingWords(page(), who)), ["waits for you", "waits for Wim", "waits for you"]);
  assert.deepEqual([artist, editor, alone].map((who) => waitingWords(handedIn, who)), ["waits for a reviewer", "waits for you", "waits for you"]);
  assert.equal(waitingWords(page({ waits_for: "nobody" }), artist), "finished");
});

test("a picture that waits for its stage is told", () => {
  assert.deepEqual([[], ["pencil"], ["pencil", "final"]].map((kept) => aheadWords({ kept_ahead: kept })),
    ["", "a pencil is kept for later", "a pencil is kept for later, a final is kept for later"]);
});

test("a page that nobody was given waits for an artist, and not for a student", () => {
  const student = { me: { id: 3 }, may: { draw: true, review: false, run_board: false } };
  assert.deepEqual([waitsForMe(page({ drawn_by: null }), artist), waitsForMe(page({ drawn_by: null }), student)], [true, false]);
});

test("a panel that was sent back waits on its own, for who draws it and then for a reviewer", () => {
  const words = (more) => [artist, editor].map((who) => waitingWords(page(more), who));
  assert.deepEqual(words({ panels_sent_back: 1 }), ["waits for you", "waits for Wim"]);
  assert.deepEqual(words({ panels_sent_back: 1, panels_handed_in: 1 }), ["waits for you", "waits for you"]);
  assert.deepEqual(words({ waits_for: "reviewer", panels_sent_back: 1 }), ["waits for you", "waits for you"]);
  assert.deepEqual(words({ waits_for: "nobody", panels_sent_back: 2, panels_handed_in: 2 }), ["waits for a reviewer", "waits for you"]);
  const [mine, finished] = ["me", "nobody"].map((waits) => fits(page({ waits_for: "nobody", panels_sent_back: 1 }), { ...EVERYTHING, waits }, artist));
  assert.deepEqual([mine, finished], [true, false]);
});

test("each filter lets through what it names, and they add up", () => {
  assert.equal(openNotes(page({ open_notes: { must: 1, try: 2, ask: 4, keep: 8, measured: 16 } })), 7);
  const must = page({ open_notes: { must: 1, try: 0, ask: 0, keep: 0, measured: 2 }, new: { pictures: 0, notes: 1, moves: 0 } });
  const shows = (filter, one = must) => fits(one, { ...EVERYTHING, ...filter }, editor);
  assert.deepEqual([{}, { stage: "pencil" }, { notes: "must" }, { notes: "measured" }, { isNew: true }, { waits: "artist" }].map((filter) => shows(filter)), Array(6).fill(true));
  assert.deepEqual([{ stage: "final" }, { notes: "none" }, { waits: "me" }, { waits: "nobody" }].map((filter) => shows(filter)), Array(4).fill(false));
  assert.equal(shows({ stage: "pencil", isNew: true }, page()), false);
  assert.equal(shows({ notes: "no such thing" }), true);
});

test("a filter survives the address", () => {
  const filter = { stage: "final", waits: "me", notes: "open", isNew: true };
  assert.deepEqual(filterIn(filterAsSearch(filter)), filter);
  assert.equal(filterAsSearch(EVERYTHING), "");
  assert.ok(!isFiltered(filterIn("?other=1")) && isFiltered(filter));
});

test("what is new is said in words", () => {
  assert.equal(newsWords(page({ new: { pictures: 1, notes: 3, moves: 0 } })), "a new picture, 3 new notes");
  assert.equal(newsWords(page()), "");
});
