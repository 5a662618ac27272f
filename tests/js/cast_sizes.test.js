import assert from "node:assert/strict";
import { test } from "node:test";
import { asOnPage, heightsTold } from "../../static/js/geometry/cast_sizes.js";

const kid = { id: 3, height_m: 1.1, head_count: 6, sizes: [{ from_page: 1, height_m: 1.1, head_count: 5 }, { from_page: 12, height_m: 1.4, head_count: 6 }] };

test("a character is as tall as the size that holds on a page has it", () => {
  const on = (page) => { const { id, height_m, head_count } = asOnPage(kid, page); return [id, height_m, head_count]; };
  assert.deepEqual([1, 11, 12, 40].map(on), [[3, 1.1, 5], [3, 1.1, 5], [3, 1.4, 6], [3, 1.4, 6]]);
  assert.deepEqual(on(Infinity), [3, 1.4, 6]);
});

test("heights are told with the page that each begins on", () => {
  assert.equal(heightsTold(kid), "1.1 m, 1.4 m from page 12 on");
  assert.equal(heightsTold({ sizes: [{ from_page: 1, height_m: 1.7 }, { from_page: 4, height_m: 1.7 }] }), "1.7 m");
  assert.equal(heightsTold({ sizes: [{ from_page: 1, height_m: null }, { from_page: 4, height_m: 2 }] }), "2 m from page 4 on");
  assert.equal(heightsTold({ sizes: [{ from_page: 1, height_m: null }] }), "");
});
