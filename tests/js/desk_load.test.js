import assert from "node:assert/strict";
import { test } from "node:test";
import { load } from "../../static/js/screens/desk_load.js";
import { State } from "../../static/js/screens/state.js";
import { slowServer } from "./slow_server.js";

globalThis.document ??= {
  querySelector: () => null, getElementById: () => null,
  createElement: () => ({ append() {}, addEventListener() {}, setAttribute() {}, remove() {} }),
};

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

test("what could not be read while the line was broken is read when it is back", async (t) => {
  t.mock.timers.enable({ apis: ["setTimeout"] });
  const line = { isBroken: true };
  t.mock.method(globalThis, "fetch", async () => {
    if (line.isBroken) throw new TypeError("network");
    return new Response(JSON.stringify(rows(1, 2)));
  });
  const state = desk();
  await load(state, ["notes"]);
  assert.deepEqual(state.known.notes, []);
  line.isBroken = false;
  t.mock.timers.tick(4000);
  for (let turn = 0; turn < 20; turn++) await Promise.resolve();
  await new Promise((resolve) => setImmediate(resolve));
  assert.deepEqual(idsOf(state.known.notes), [1, 2]);
});

const picture = (id, more = {}) => ({ id, withdrawn_at: null, ...more });
const drawing = { revision: 5, region: { point: [0.5, 0.5] }, lines: [] };

/** A newer picture came: the Desk reads page, pictures and the one to show. @returns the picture that lies there then */
async function shownAfter(asked, state, revisions) {
  const reading = load(state, ["page", "revisions", "revision"]);
  const answers = { "/revisions-in-brief": { results: revisions, next: null }, "/pages/1": { id: 1, current_revision: { id: 7 } } };
  for (let at = 0; at < 4; at++) {
    await new Promise((resolve) => setTimeout(resolve));
    for (const one of asked.splice(0)) {
      const body = Object.entries(answers).find(([end]) => one.address.split("?")[0].endsWith(end))?.[1];
      one.answer(body ?? picture(Number(one.address.split("/").pop())));
    }
  }
  await reading;
  return state.known.revision.id;
}

test("the picture that a note is drawn on stays until the note is sent or dropped, or the picture is withdrawn", async (t) => {
  const asked = slowServer(t);
  const state = desk();
  state.set({ revision: picture(5), revisions: [picture(5)], draft: drawing });
  assert.equal(await shownAfter(asked, state, [picture(5), picture(7)]), 5);
  state.set({ shownRevision: 7 });
  assert.equal(await shownAfter(asked, state, [picture(5), picture(7)]), 7);
  state.set({ shownRevision: null });
  assert.equal(await shownAfter(asked, state, [picture(5), picture(7)]), 5);
  assert.equal(await shownAfter(asked, state, [picture(5, { withdrawn_at: "now" }), picture(7)]), 7);
});

test("and the one whose panels are being corrected, until they are kept or left", async (t) => {
  const asked = slowServer(t);
  const state = desk();
  state.set({ revision: picture(5), revisions: [picture(5)], edit: { revision: 5 } });
  assert.equal(await shownAfter(asked, state, [picture(5), picture(7)]), 5);
  state.set({ edit: null });
  assert.equal(await shownAfter(asked, state, [picture(5), picture(7)]), 7);
});

test("words alone go along to the newer picture", async (t) => {
  const asked = slowServer(t);
  const state = desk();
  state.set({ revision: picture(5), revisions: [picture(5)], draft: { ...drawing, region: null } });
  assert.equal(await shownAfter(asked, state, [picture(5), picture(7)]), 7);
});

test("a note that is begun while a newer picture is on its way keeps the one that lies there", async (t) => {
  const asked = slowServer(t);
  const state = desk();
  state.set({ revision: picture(5), revisions: [picture(5)] });
  const reading = shownAfter(asked, state, [picture(5), picture(7)]);
  while (!asked.some(({ address }) => address.endsWith("/revisions/7"))) await new Promise((resolve) => setTimeout(resolve));
  state.set({ draft: drawing });
  assert.equal(await reading, 5);
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
