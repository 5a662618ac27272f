import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { asMatrix, movedOnto, stillToPage } from "../../static/js/geometry/still_placement.js";

const vectors = JSON.parse(readFileSync(new URL("../vectors/still_placement.json", import.meta.url)));
const near = (got, wanted) => assert.ok(got.every((v, i) => Math.abs(v - wanted[i]) < 1e-6), `${got} is not ${wanted}`);
const placedBy = (row) => stillToPage(row.in_still, row.on_page, row.still, row.page);

for (const row of vectors.placed)
  test(`two points tell scale, turn and shift: ${row.name}`, () => {
    const { turn, shift } = placedBy(row);
    near([...turn, ...shift], [...row.turn, ...row.shift]);
    near([a(turn), b(turn)], [turn[0], turn[1]]);
  });

const numbers = (turn) => asMatrix({ turn, shift: [0, 0] }).match(/-?[\d.e-]+/g).map(Number);
const a = (turn) => numbers(turn)[0];
const b = (turn) => numbers(turn)[1];

for (const row of vectors.refused)
  test(`refused: ${row.name}`, () => assert.equal(placedBy(row).reason, row.reason));

test("points go along with a panel that was moved and sized", () => {
  const now = [[0.5, 0.2], [0.9, 0.2], [0.9, 0.4], [0.5, 0.4]];
  const [moved] = movedOnto([[0.2, 0.3]], [0, 0, 0.4, 0.4], now);
  near(moved, [0.7, 0.35]);
});
