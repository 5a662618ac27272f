import assert from "node:assert/strict";
import { test } from "node:test";
import { differenceOf, extreme, linesOf } from "../../static/js/geometry/line_difference.js";

const [WIDTH, HEIGHT] = [90, 80];

/** A sheet with upright lines at these places, two px wide; `paper` may fall off to the right. */
function sheet(lines, { paper = () => 250, ink = 40, clearFrom = WIDTH } = {}) {
  const data = new Uint8ClampedArray(4 * WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) {
      const isInk = lines.some((at) => x === at || x === at + 1);
      const value = isInk ? ink : paper(x);
      data.set([value, value, value, x < clearFrom ? 255 : 0], 4 * (y * WIDTH + x));
    }
  return { width: WIDTH, height: HEIGHT, data };
}

const inkAt = ({ data }, x) => [...data.slice(4 * (40 * WIDTH + x), 4 * (40 * WIDTH + x) + 3)];
const isRed = ([r, , b]) => r > b + 60;
const isBlue = ([r, , b]) => b > r + 60;
const isGrey = ([r, g, b]) => r < 230 && Math.abs(r - b) < 25 && Math.abs(r - g) < 25;

test("what is gone is red, what is new is blue, what stayed is grey, and paper stays white", () => {
  const difference = differenceOf(sheet([20, 50]), sheet([20, 70]));
  assert.ok(isGrey(inkAt(difference, 20)));
  assert.ok(isRed(inkAt(difference, 50)));
  assert.ok(isBlue(inkAt(difference, 70)));
  assert.deepEqual(inkAt(difference, 35), [255, 255, 255]);
});

test("a pencil and an ink of the same lines, in another light, do not differ", () => {
  const before = sheet([20, 50], { ink: 150, paper: (x) => 230 - x / 2 });
  const { gone, isNew, stayed } = differenceOf(before, sheet([20, 50], { ink: 5 }));
  assert.ok(gone < 0.02 && isNew < 0.02 && stayed > 0.9, `${gone} ${isNew}`);
});

test("a line that wavers within the slack is the same line", () => {
  const { gone, isNew } = differenceOf(sheet([20]), sheet([22]));
  assert.ok(gone < 0.02 && isNew < 0.02);
});

test("where the older sheet does not reach, nothing is called new", () => {
  const difference = differenceOf(sheet([20], { clearFrom: 60 }), sheet([20, 70]));
  assert.ok(!isBlue(inkAt(difference, 70)));
  assert.equal(difference.isNew, 0);
});

test("two blank sheets differ in nothing", () => {
  const { data, gone, isNew } = differenceOf(sheet([]), sheet([]));
  assert.ok(data.every((value) => value === 255));
  assert.equal(gone + isNew, 0);
});

test("broad tones are no lines", () => {
  const tone = sheet([], { paper: (x) => (x < 45 ? 120 : 250) });
  assert.ok(linesOf(tone)[40 * WIDTH + 10] < 0.05);
});

test("the running extreme is what looking at every px gives", () => {
  const values = Float32Array.from({ length: WIDTH * HEIGHT }, (_, i) => (i * 7919) % 251);
  for (const [reach, pick] of [[1, Math.max], [3, Math.min], [60, Math.max]]) {
    const quick = extreme(values, WIDTH, HEIGHT, reach, pick);
    for (const [x, y] of [[0, 0], [5, 3], [44, 41], [WIDTH - 1, HEIGHT - 1], [6, 70]]) {
      const seen = [];
      for (let v = Math.max(0, y - reach); v <= Math.min(HEIGHT - 1, y + reach); v++)
        for (let u = Math.max(0, x - reach); u <= Math.min(WIDTH - 1, x + reach); u++) seen.push(values[v * WIDTH + u]);
      assert.equal(quick[y * WIDTH + x], pick(...seen));
    }
  }
});
