import assert from "node:assert/strict";
import { test } from "node:test";
import { renditionFor } from "../../static/js/elements/picture_part.js";

const of = (...widths) => widths.map((width_px, i) => ({ width_px, url: `/${[400, 1200, 2400][i]}` }));

test("the smallest that is wide enough, else the widest", () => {
  assert.equal(renditionFor(of(400, 1200, 2400), 300).url, "/400");
  assert.equal(renditionFor(of(400, 1200, 2400), 401).url, "/1200");
  assert.equal(renditionFor(of(400, 1200, 2400), 9000).url, "/2400");
  assert.equal(renditionFor(of(400, 1200, 1700), 1800).url, "/2400");
});

test("of a picture that is its own larger copy, the copy that is shown already", () => {
  assert.equal(renditionFor(of(400, 874, 874), 1200).url, "/1200");
  assert.equal(renditionFor(of(400, 874, 874), 874).url, "/1200");
  assert.equal(renditionFor(of(300, 300, 300), 500).url, "/400");
});

test("none where there is none", () => {
  assert.equal(renditionFor([], 400), null);
  assert.equal(renditionFor(undefined, 0), null);
});
