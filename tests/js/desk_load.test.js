import assert from "node:assert/strict";
import { test } from "node:test";
import { load } from "../../static/js/screens/desk_load.js";
import { State } from "../../static/js/screens/state.js";
import { slowServer } from "./slow_server.js";

globalThis.document ??= { querySelector: () => null, getElementById: () => null };

const rows = (...ids) => ({ results: ids.map((id) => ({ id })), next: null });
const desk = () => new State({ pageId: 1, page: { current_revision: null }, panels: [], revisions: [], revision: null, notes: [], shownRevision: null });
const idsOf = (list) => list.map(({ id }) => id);

test("an older reading that arrives late does not undo a newer one", async (t) => {
  const asked = slowServer(t);
  const state = desk();
  const readings = [load(state, ["notes"]), load(state, ["notes"])];
  asked[1].answer(rows(1, 2));
  await readings[1];
  asked[0].answer(rows(1));
  await readings[0];
  assert.deepEqual(idsOf(state.known.notes), [1, 2]);
});

test("a reading leaves alone what it was not asked for", async (t) => {
  const asked = slowServer(t);
  const state = desk();
  const notes = load(state, ["notes"]);
  const panels = load(state, ["panels"]);
  asked.find(({ address }) => address.includes("/panels")).answer(rows(7));
  await panels;
  asked.find(({ address }) => address.includes("/notes")).answer(rows(1));
  await notes;
  assert.deepEqual([idsOf(state.known.panels), idsOf(state.known.notes)], [[7], [1]]);
});
