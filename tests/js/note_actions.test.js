import assert from "node:assert/strict";
import { test } from "node:test";
import { doWithNote } from "../../static/js/screens/note_actions.js";
import { State } from "../../static/js/screens/state.js";

const said = /** @type {string[]} */ ([]);
const element = () => ({
  append: (...parts) => said.push(...parts.filter((part) => typeof part === "string")), addEventListener() {}, setAttribute() {}, remove() {},
  contains: () => false, classList: { remove() {}, toggle() {} }, style: {},
});
globalThis.document = /** @type {any} */ ({ createElement: element, getElementById: element, querySelectorAll: () => [] });

test("a key that is refused leaves the note at hand where it is", async () => {
  const [note, next] = [1, 2].map((id) => ({ id, state: "open", source: "person", may: {}, region: null }));
  const state = new State({ notes: [note, next], note: 1, page: { current_revision: null }, revision: null, showsClosed: false });
  let isRead = false;
  for (const deed of /** @type {const} */ (["settled", "answered", "stet"]))
    await doWithNote(state, note, deed, { again: async () => { isRead = true; }, stepsOn: true });
  assert.equal(state.known.note, 1);
  assert.equal(isRead, false);
  assert.match(said.join(" "), /Only who wrote this note/);
});

test("a key that is hit twice settles a note once, and the next note by the key after", async () => {
  const [note, next] = [1, 2].map((id) => ({ id, state: "open", source: "person", may: { settle: true }, region: null, version: 1 }));
  const state = new State({ notes: [note, next], note: 1, page: { current_revision: null }, revision: null, showsClosed: false });
  const sent = /** @type {string[]} */ ([]);
  globalThis.document.querySelector = () => null;
  globalThis.requestAnimationFrame = () => 0;
  globalThis.fetch = async (address, { method } = {}) => {
    sent.push(`${method} ${address}`);
    return new Response(JSON.stringify({ ...note, state: "settled", version: 2 }));
  };
  const press = (one) => doWithNote(state, one, "settled", { again: async () => {}, stepsOn: true });
  await Promise.all([press(note), press(note)]);
  assert.equal(state.known.note, 2);
  await press(next);
  assert.deepEqual(sent, ["PUT /api/v1/notes/1/settlement", "PUT /api/v1/notes/2/settlement"]);
});
