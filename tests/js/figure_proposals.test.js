import assert from "node:assert/strict";
import { test } from "node:test";
import { askedOf, asks, lostOf, proposalNear, takenBack, withAnswer, withProposals } from "../../static/js/screens/figure_proposals.js";
import { begun, stepBack, withPoint } from "../../static/js/screens/figures_mark_model.js";

const CAST = [{ id: 4, name: "Ines", key: "i" }];
const proposal = (id, state = "proposed") => ({ id, state, character: 4, figure: null, source_page: 3, source_panel: 2, marks: { crown: [0.2, 0.1 * id], sole: [0.2, 0.5] } });
const asked = () => withProposals(begun(9, CAST, []), [proposal(1), proposal(2, "refused"), proposal(3)]);

test("those that wait are asked about one after the other", () => {
  assert.equal(askedOf(asked()).id, 1);
  const next = withAnswer(asked(), { ...proposal(1, "confirmed"), figure: 70 }, [{ id: 70 }]);
  assert.deepEqual([askedOf(next).id, next.figures.length, next.chosen], [3, 1, 70]);
  const last = withAnswer(next, proposal(3, "refused"), next.figures);
  assert.deepEqual([askedOf(last), last.proposals, last.answered.length], [null, [], 2]);
});

test("who is asked about is not said to be marked by hand before the answer is no", () => {
  const figures = [{ id: 61, placed_by: "lost" }, { id: 62, placed_by: "lost" }, { id: 63, placed_by: "hand" }];
  const mended = { ...proposal(1), found_by: "axis", source_figure: 61 };
  const marking = withProposals(begun(9, CAST, figures), [mended]);
  assert.deepEqual(lostOf(marking).map(({ id }) => id), [62]);
  assert.deepEqual(lostOf(withAnswer(marking, { ...mended, state: "refused" }, figures)).map(({ id }) => id), [61, 62]);
});

test("an answer that is taken back is asked again", () => {
  const answered = withAnswer(asked(), proposal(1, "refused"), []);
  const back = takenBack(answered, proposal(1), []);
  assert.deepEqual([askedOf(back).id, back.proposals.map(({ id }) => id), back.answered], [1, [1, 3], []]);
});

test("Escape leaves it open, and so does a mark of one's own that is begun", () => {
  assert.deepEqual([stepBack(asked()).asked, stepBack(asked()).proposals.length], [null, 2]);
  assert.equal(withPoint(asked(), [0.5, 0.5], 0.001).asked, null);
});

test("it says who it may be and where that was marked, and is found by a tap on an end", () => {
  assert.match(asks(asked(), proposal(1)), /Is this Ines, as marked in panel 2 of page 3\?/);
  assert.match(asks(asked(), { ...proposal(1), found_by: "axis" }), /Ines was drawn anew here\. Do the two ends lie on its crown/);
  const toPx = ([x, y]) => [1000 * x, 1000 * y];
  assert.equal(proposalNear(asked(), [204, 296], toPx).id, 3);
  assert.equal(proposalNear(asked(), [400, 296], toPx), null);
});
