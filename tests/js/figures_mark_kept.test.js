import assert from "node:assert/strict";
import { afterEach, mock, test } from "node:test";
import { keepIfWhole, patch, readFigures, remove } from "../../static/js/screens/figures_mark_kept.js";
import { begun, chosenOf } from "../../static/js/screens/figures_mark_model.js";

const CAST = [{ id: 4, name: "Ines", key: "i" }, { id: 5, name: "Maro", key: "m" }];
mock.timers.enable({ apis: ["setTimeout"] }); // slips go by themselves after a while
globalThis.document = { querySelector: () => null, getElementById: () => null, createElement: () => ({ append() {}, remove() {}, addEventListener() {}, setAttribute() {} }) };

/** A server that answers when it is told to, and takes no change of an older version. */
function slowServer(figures) {
  const held = [];
  const answer = (status, body) => ({ ok: status < 400, status, text: async () => JSON.stringify(body) });
  const doing = {
    POST: (_, body) => {
      if (body.character === 99) return answer(400, { detail: "There is no such character on this board." });
      figures.push({ pose: "standing", ...body, id: 70 + figures.length, revision: 9, version: 1 });
      return answer(201, figures.at(-1));
    },
    PATCH: (row, body, match) => (match === `"${row.version}"` ? answer(200, Object.assign(row, body, { version: row.version + 1 })) : answer(412, { detail: "Changed meanwhile." })),
    DELETE: (row) => answer(200, figures.splice(figures.indexOf(row), 1)),
    GET: () => answer(200, { results: figures.map((one) => ({ ...one })), next: null }),
  };
  globalThis.fetch = (path, { method, headers, body }) => new Promise((resolve) => {
    const id = Number(path.match(/figures\/(\d+)/)?.[1]);
    held.push(() => resolve(doing[method](figures.find((one) => one.id === id), body && JSON.parse(body), headers["If-Match"])));
    if (method === "GET") held.pop()();
  });
  /** Answers all, one after the other, until nothing is asked any more. */
  return async () => {
    for (let quiet = 0; quiet < 20; quiet++) {
      await new Promise(setImmediate);
      if (held.length) { held.shift()(); quiet = 0; }
    }
  };
}

const stateOf = (marking) => {
  const state = { known: { marking }, set: (changes) => Object.assign(state.known, changes) };
  return state;
};
const whole = (character) => ({ ...begun(9, CAST, []), character, crown: [0.3, 0.2], sole: [0.3, 0.6] });
afterEach(() => { delete globalThis.fetch; });

test("what is done to a figure before the server has answered is kept in its order", async () => {
  const figures = [];
  const settle = slowServer(figures);
  const state = stateOf(whole(4));
  keepIfWhole(state);
  patch(state, { pose: "seated" });
  patch(state, { character: 5 });
  patch(state, { pose: "crouching" });
  assert.deepEqual([chosenOf(state.known.marking).pose, chosenOf(state.known.marking).character], ["crouching", 5]);
  await settle();
  assert.deepEqual(figures.map(({ id, pose, character, version }) => [id, pose, character, version]), [[70, "crouching", 5, 4]]);
  assert.deepEqual(state.known.marking.figures.map(({ id, pose }) => [id, pose]), [[70, "crouching"]]);
});

test("a late answer neither takes another figure in hand nor shows a pose that was changed since", async () => {
  const figures = [];
  const settle = slowServer(figures);
  const state = stateOf(whole(4));
  keepIfWhole(state);
  patch(state, { pose: "seated" });
  state.set({ marking: { ...state.known.marking, chosen: null, crown: [0.6, 0.2], sole: [0.6, 0.7], character: 5 } });
  keepIfWhole(state);
  const shown = [];
  state.set = (changes) => { shown.push(changes.marking.figures.map(({ pose }) => pose)); Object.assign(state.known, changes); };
  await settle();
  assert.deepEqual(figures.map(({ pose, character }) => [pose, character]), [["seated", 4], ["standing", 5]]);
  assert.ok(shown.length > 1 && shown.every(([first]) => first === "seated"));
  assert.equal(state.known.marking.chosen, 71);
});

test("what was refused is shown as the server has it, and what hung on it is not sent", async () => {
  const figures = [{ id: 70, revision: 9, version: 3, character: 4, pose: "standing", marks: {} }];
  const settle = slowServer(figures);
  const state = stateOf({ ...begun(9, CAST, await readFigures(9)), chosen: 70 });
  Object.assign(figures[0], { version: 4, pose: "far" });
  patch(state, { pose: "seated" });
  assert.equal(chosenOf(state.known.marking).pose, "seated");
  await settle();
  assert.equal(chosenOf(state.known.marking).pose, "far");
  state.set({ marking: { ...whole(99), figures: state.known.marking.figures } });
  keepIfWhole(state);
  patch(state, { pose: "seated" });
  await settle();
  assert.deepEqual([state.known.marking.figures.length, state.known.marking.crown, figures[0].pose], [1, [0.3, 0.2], "far"]);
});

test("a figure is removed once, after what was done to it", async () => {
  const figures = [];
  const settle = slowServer(figures);
  const state = stateOf(whole(4));
  keepIfWhole(state);
  patch(state, { pose: "far" });
  remove(state);
  remove(state);
  assert.deepEqual(state.known.marking.figures, []);
  await settle();
  assert.deepEqual(figures, []);
});
