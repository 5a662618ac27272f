import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { area, bounds, boxOverlap, contains, middleOf, signedArea, toPage, toPixels } from "../../static/js/geometry/page_space.js";
import { readRegion } from "../../static/js/geometry/region_reading.js";

const vectors = JSON.parse(readFileSync(new URL("../vectors/page_space.json", import.meta.url)));

const near = (got, wanted) => {
  const pairs = [got].flat().map((value, i) => [value, [wanted].flat()[i]]);
  for (const [a, b] of pairs) assert.ok(Math.abs(a - b) <= 1e-12 * Math.max(1, Math.abs(b)), `${a} is not ${b}`);
};
const size = ([width, height]) => ({ width, height });

for (const row of vectors.outlines)
  test(`area, middle and bounds of the outline "${row.name}"`, () => {
    near(signedArea(row.polygon), row.signed_area);
    near(middleOf({ polygon: row.polygon }), row.middle);
    near(bounds(row.polygon), row.bounds);
    assert.equal(area(row.polygon) === 0, row.signed_area === 0);
  });

test("what lies inside an outline", () => {
  for (const row of vectors.inside) assert.equal(contains(row.polygon, row.point), row.contains, JSON.stringify(row));
});

test("overlap of two boxes is the same either way round", () => {
  for (const row of vectors.overlaps) {
    near(boxOverlap(row.first, row.second), row.overlap);
    near(boxOverlap(row.second, row.first), row.overlap);
  }
});

test("page coordinates become pixels and come back", () => {
  for (const row of vectors.pixels) {
    near(toPixels(size(row.size), row.page), row.px);
    near(toPage(size(row.size), row.px), row.page);
  }
});

test("a region is read or refused with the same sentence", () => {
  for (const row of vectors.regions) {
    if ("refusal" in row) assert.throws(() => readRegion(row.region), { name: "RangeError", message: row.refusal });
    else assert.deepEqual(readRegion(row.region), row.read);
  }
});
