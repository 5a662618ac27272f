import assert from "node:assert/strict";
import { test } from "node:test";
import { labelsApart } from "../../static/js/geometry/labels_apart.js";

const box = [0, 0, 400, 300];

test("labels that are apart stay where they are", () => {
  assert.deepEqual(labelsApart([{ text: "+18%", at: [10, 50] }, { text: "Pim", at: [10, 70] }, { text: "Odda", at: [200, 52] }], box), [[10, 50], [10, 70], [200, 52]]);
});

test("one that would be printed over another stands below it, and below what stands there", () => {
  const [first, second, third] = labelsApart([{ text: "+18%", at: [10, 50] }, { text: "Corrin 1.83 m", at: [12, 58] }, { text: "Pim", at: [14, 55] }], box);
  assert.deepEqual(first, [10, 50]);
  assert.ok(second[0] === 12 && second[1] - first[1] >= 16);
  assert.ok(third[0] === 14 && third[1] - second[1] >= 16);
});

test("a label at the right edge is read whole", () => {
  const [[x]] = labelsApart([{ text: "Corrin 1.83 m", at: [390, 50] }], box);
  assert.ok(x + 13 * 8 + 2 <= 400); // as wide as they come where letters stand on whole pixels, and their rim of paper
});

test("labels at the lower and the upper edge stand inside, and none over another", () => {
  const [first, second, high] = labelsApart([{ text: "+18%", at: [10, 310] }, { text: "panel 1 of page 8", at: [12, 305] }, { text: "Pim", at: [300, 2] }], box).map(([, y]) => y);
  assert.ok(first <= 298 && first - second >= 16 && high >= 12);
});
