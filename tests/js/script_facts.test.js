import assert from "node:assert/strict";
import { test } from "node:test";
import { fits, foundIn, namesInWhatHappens, panelsOf, speakers, wishAsSearch, wishIn, wordsIn } from "../../static/js/screens/script_facts.js";

const ALL = { find: "", who: "" };
const PART = { id: 1, happens: "Rain on the Mill.\nC'est l’été.", said: "PIM (off): Mind the edge!\nODDA: It (the wheel) stands." };

test("a page's panels: what is gone comes last, and only for its words", () => {
  const panel = (id, page, more = {}) => ({ id, page, happens: "", said: "", is_gone: false, ...more });
  const panels = [panel(1, 7, { is_gone: true, said: "PIM: Oh." }), panel(2, 7), panel(3, 8), panel(4, 7, { is_gone: true })];
  assert.deepEqual(panelsOf({ id: 7 }, panels).map(({ id }) => id), [2, 1]);
});

test("words are found whatever their case, in what happens and in what is said", () => {
  assert.ok(fits(PART, ALL));
  for (const find of ["the mill", "MIND", "ÉTÉ", " edge! ", "(the"]) assert.ok(fits(PART, { ...ALL, find }), find);
  assert.ok(!fits(PART, { ...ALL, find: "goose" }));
});

test("a name that stands right below another line is told, a cry or a last line is not", () => {
  const happens = ["Marl at the window.\nMARL\nNobody comes.", "MARL\nruns.", "A sign:\nCLOSED", "He cries:\nNO!\nand falls.", "Again.\nMARL\nGo."];
  assert.deepEqual(namesInWhatHappens(happens.map((text, id) => ({ id, happens: text, said: "" }))), ["MARL"]);
  assert.deepEqual(namesInWhatHappens([{ id: 1, happens: "", said: "MARL: Go." }]), []);
});

test("who speaks is somebody's name, without what stands in brackets", () => {
  assert.ok(fits(PART, { ...ALL, who: "PIM" }));
  assert.ok(!fits(PART, { ...ALL, who: "MILL" }));
  assert.ok(!fits(PART, { find: "goose", who: "PIM" }));
});

test("what is found stands apart, signs and all", () => {
  assert.deepEqual(foundIn("It (the wheel) stands (the).", "(THE"), [
    { text: "It ", isFound: false }, { text: "(the", isFound: true }, { text: " wheel) stands ", isFound: false }, { text: "(the", isFound: true }, { text: ").", isFound: false }]);
  assert.deepEqual(foundIn("a-b/c", "-b/"), [{ text: "a", isFound: false }, { text: "-b/", isFound: true }, { text: "c", isFound: false }]);
  assert.deepEqual(foundIn("", ""), [{ text: "", isFound: false }]);
});

test("who speaks most comes first", () => {
  const parts = [PART, { id: 2, happens: "", said: "ODDA (from below): Pull.\nNobody named this one.\nABE: It (the wheel) stands again." }];
  assert.deepEqual(speakers(parts), [
    { who: "ABE", lines: 1, words: 5 }, { who: "ODDA", lines: 2, words: 5 }, { who: "PIM", lines: 1, words: 3 }]);
  assert.equal(wordsIn(parts), 3 + 4 + 1 + 4 + 5);
});

test("what is looked for stands in the address", () => {
  const wish = { find: "l’été & rain", who: "PIM" };
  assert.deepEqual(wishIn(wishAsSearch(wish)), wish);
  assert.equal(wishAsSearch(ALL), "");
});
