import assert from "node:assert/strict";
import { test } from "node:test";
import { fieldsOfMarks, marksOf } from "../../static/js/screens/mark_fields.js";

const RUBRIC = [{ id: 7 }, { id: 8 }];

test("a mark is a level and a word, and each may be without the other", () => {
  const marks = [{ criterion: 7, level: 0, comment: "" }, { criterion: 8, level: null, comment: "See me." }];
  assert.deepEqual(fieldsOfMarks(RUBRIC, marks), { "level-7": "0", "comment-7": "", "level-8": "", "comment-8": "See me." });
  assert.deepEqual(fieldsOfMarks(RUBRIC.slice(0, 1), []), { "level-7": "", "comment-7": "" });
});

test("only what was changed is sent, and a level that is taken back takes no word along", () => {
  assert.deepEqual(marksOf({ "level-7": "0" }), [{ criterion: 7, level: 0 }]);
  assert.deepEqual(marksOf({ "level-7": "", "comment-8": "See me." }), [{ criterion: 7, level: null }, { criterion: 8, comment: "See me." }]);
  assert.deepEqual(marksOf({ "level-8": "2", "comment-8": "Yes." }), [{ criterion: 8, level: 2, comment: "Yes." }]);
});
