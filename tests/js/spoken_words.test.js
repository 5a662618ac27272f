import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { countWords, spokenLines, wordsSaid } from "../../static/js/elements/spoken_words.js";

const table = JSON.parse(readFileSync(new URL("../vectors/spoken_words.json", import.meta.url)));

for (const [said, lines] of table.lines) {
  test(`lines of ${JSON.stringify(said)}`, () => {
    assert.deepEqual(spokenLines(said).map(({ who, speaker, words }) => [who, speaker, words]), lines);
  });
}

for (const [text, words] of table.counts) test(`words in ${JSON.stringify(text)}`, () => assert.equal(countWords(text), words));

test("who speaks is not read", () => assert.equal(wordsSaid("OLD WENNA (from below): Pull it up.\nSFX: KRAK"), 4));
