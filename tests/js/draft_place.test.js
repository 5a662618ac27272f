import assert from "node:assert/strict";
import { test } from "node:test";

globalThis.matchMedia = () => /** @type {any} */ ({ matches: false });
globalThis.document = /** @type {any} */ ({ getElementById: () => null });

/** @type {Set<string>} */
const held = new Set();
const locks = {
  request: async (name, _, hold) => {
    if (held.has(name)) return hold(null);
    held.add(name);
    await hold({ name });
    held.delete(name);
  },
};
Object.defineProperty(globalThis, "navigator", { value: { locks }, configurable: true });
/** @type {(() => void)[]} what is done when the window that came last goes */
let going = [];
globalThis.addEventListener = /** @type {any} */ ((type, run) => type === "pagehide" && going.push(run));

const { dropDraft, keepDraft } = await import("../../static/js/elements/drafts.js");
const { draftKey } = await import("../../static/js/screens/desk_draft.js");
const { takePlace } = await import("../../static/js/screens/draft_place.js");

async function windowOn(pageId) {
  going = [];
  const state = { known: { pageId, me: { id: 1 }, place: undefined } };
  await takePlace(state);
  const goes = going;
  return { key: draftKey(state.known), go: async () => {
    for (const run of goes) run();
    await new Promise((done) => setTimeout(done));
  } };
}

test("two windows on a page keep apart what is written in them, and a window that is alone has what was kept before", async () => {
  const [first, second, elsewhere] = [await windowOn(1), await windowOn(1), await windowOn(2)];
  assert.equal(first.key, draftKey({ pageId: 1, me: { id: 1 } }));
  assert.notEqual(second.key, first.key);
  assert.equal(elsewhere.key, draftKey({ pageId: 2, me: { id: 1 } }));
  await first.go();
  assert.equal((await windowOn(1)).key, first.key);
});

test("what a window left that is gone is taken up by the next one, and what is being written in another is not", async () => {
  const [first, second] = [await windowOn(3), await windowOn(3)];
  keepDraft(first.key, { body: "Still at it." });
  keepDraft(second.key, { body: "Left." });
  await second.go();
  const third = await windowOn(3);
  assert.equal(third.key, second.key);
  dropDraft(third.key);
  await third.go();
  assert.notEqual((await windowOn(3)).key, first.key);
});
