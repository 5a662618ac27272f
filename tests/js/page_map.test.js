import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { mapOfSteps, mapPoint, qualityOf, splineWeights } from "../../static/js/geometry/page_map.js";

const vectors = JSON.parse(readFileSync(new URL("../vectors/page_map.json", import.meta.url)));
const near = (got, wanted) => assert.ok(got.every((v, i) => Math.abs(v - wanted[i]) < 1e-9), `${got} is not ${wanted}`);

for (const row of vectors.steps)
  test(`a point of the older revision lies on the newer one: ${row.name}`, () => {
    for (const { before, after } of row.points) near(mapPoint(row.step, before), after);
  });

for (const row of vectors.chains)
  test(`maps follow one another: ${row.name}`, () => {
    for (const { before, after } of row.points) near(mapOfSteps(row.steps)(before), after);
  });

test("the nodes' weights sum to one wherever one asks", () => {
  for (const count of [4, 5, 14])
    for (const share of [-1, 0, 0.123, 0.5, 0.999, 1, 2]) {
      const weights = splineWeights(share, count);
      near([weights.reduce((sum, [, weight]) => sum + weight, 0)], [1]);
      assert.ok(weights.every(([node]) => node >= 0 && node < count));
    }
});

test("a chain is as sure as its least sure step", () => {
  assert.equal(qualityOf([{ quality: 0.9 }, { quality: 0.4 }]), 0.4);
});
