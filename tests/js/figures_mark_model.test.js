import assert from "node:assert/strict";
import { test } from "node:test";
import { begun, begunAgain, bodyOf, byKey, endsOf, kept, moved, nextMark, onItsWay, read, replaced, stepBack, withCharacter, withPoint } from "../../static/js/screens/figures_mark_model.js";

const CAST = [{ id: 4, name: "Ines", key: "i" }, { id: 5, name: "Maro", key: "m" }];
const fresh = () => begun(9, CAST, []);

test("crown, then soles, then who it is, in either order", () => {
  const both = withPoint(withPoint(fresh(), [0.3, 0.2], 0.002), [0.3, 0.6], 0.003);
  assert.equal(nextMark(both), "who");
  assert.equal(bodyOf(both), null);
  const body = { character: 5, marks: { crown: [0.3, 0.2], sole: [0.3, 0.6] }, doubts: { crown: 0.002, sole: 0.003 } };
  assert.deepEqual(bodyOf(withCharacter(both, 5)), body);
  assert.deepEqual(bodyOf(withPoint(withPoint(withCharacter(fresh(), 5), [0.3, 0.2], 0.002), [0.3, 0.6], 0.003)), body);
});

test("a kept figure is at hand, and the next one may begin with the same character", () => {
  const after = kept({ ...fresh(), character: 4 }, { id: 70, character: 4, marks: {} });
  assert.deepEqual([after.chosen, after.character, nextMark(after)], [70, 4, "crown"]);
  assert.equal(kept(after, { id: 70, character: 5, marks: {} }).figures.length, 1);
  assert.equal(nextMark({ ...after, further: "chin" }), "chin");
  assert.equal(withPoint({ ...after, further: "chin" }, [0.1, 0.1]).crown, null);
});

test("a figure on its way is at hand, keeps its place when it is known, and is begun again where it was refused", () => {
  const whole = withPoint(withPoint(withCharacter(fresh(), 5), [0.3, 0.2], 0.002), [0.3, 0.6], 0.003);
  const figure = onItsWay(bodyOf(whole));
  const sent = kept(whole, figure);
  assert.deepEqual([sent.chosen, sent.crown, figure.pose], [figure.id, null, "standing"]);
  const known = replaced(sent, { ...figure, id: 70 }, figure.id);
  assert.deepEqual([known.chosen, known.figures.map(({ id }) => id)], [70, [70]]);
  const lost = { id: 70, character: 5, marks: {}, placed_by: "lost" };
  assert.deepEqual(replaced({ ...sent, figures: [lost, ...sent.figures] }, { ...figure, id: 70 }, figure.id).figures, [{ ...figure, id: 70 }]);
  assert.equal(replaced({ ...sent, chosen: 3 }, { ...figure, id: 70 }, figure.id).chosen, 3);
  assert.deepEqual(read(sent, [{ id: 3 }]).figures.map(({ id }) => id), [3, figure.id]);
  const again = begunAgain(sent, figure.id, whole);
  assert.deepEqual([again.figures, again.chosen, bodyOf(again)], [[], null, bodyOf(whole)]);
});

test("Escape puts away the last thing that was begun, and then has nothing to put away", () => {
  const both = withPoint(withPoint(fresh(), [0.3, 0.2]), [0.3, 0.6]);
  assert.equal(stepBack(both).sole, null);
  assert.equal(stepBack(stepBack(both)).crown, null);
  assert.equal(stepBack(fresh()), null);
});

test("the cross stays on the page, and keys are found in capitals too", () => {
  assert.deepEqual(moved({ ...fresh(), cursor: [0.99, 0.01] }, [0.05, -0.05]).cursor, [1, 0]);
  assert.equal(byKey(fresh(), "M").id, 5);
  assert.equal(byKey(fresh(), "z"), null);
});

test("soles marked as two are taken in their middle; lost marks have no ends", () => {
  assert.deepEqual(endsOf({ marks: { crown: [0, 0], "sole-left": [0, 1], "sole-right": [1, 1] } }), [[0, 0], [0.5, 1]]);
  assert.equal(endsOf({ marks: {} }), null);
});
