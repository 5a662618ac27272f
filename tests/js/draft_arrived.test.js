import assert from "node:assert/strict";
import { mock, test } from "node:test";
import { State } from "../../static/js/screens/state.js";

globalThis.matchMedia = () => /** @type {any} */ ({ matches: false });
globalThis.document = /** @type {any} */ ({
  getElementById: () => null, querySelector: () => null, scripts: [], cookie: "",
  createElement: () => ({ append() {}, addEventListener() {}, setAttribute() {}, remove() {} }),
});
mock.timers.enable({ apis: ["setTimeout"] });
const { beginDraft, changeDraft, draftKey } = await import("../../static/js/screens/desk_draft.js");
const { changeAsWritten, pinOnce } = await import("../../static/js/screens/draft_arrived.js");
const { readDraft } = await import("../../static/js/elements/drafts.js");

/** @type {{method: string, path: string, body: any, key: string, version: string}[]} */
let asked = [];
function answering(...answers) {
  asked = [];
  globalThis.fetch = /** @type {any} */ (async (address, { method, body, headers }) => {
    const path = address.replace("/api/v1", "");
    // What the Desk reads anew by itself is not what these tests are about.
    if (method === "GET" && !/notes/.test(path)) return new Response("{}");
    asked.push({ method, path, body: body && JSON.parse(body), key: headers["Idempotency-Key"], version: headers["If-Match"] });
    const answer = answers.shift();
    if (answer === "line") throw new TypeError("network");
    return new Response(JSON.stringify(answer.body), { status: answer.status ?? 200 });
  });
}
const desk = (pageId) => new State({
  pageId, me: { id: 1 }, may: { write: true }, page: { current_revision: { id: 5 } }, revision: { id: 5, panels: [] }, pictured: 5, notes: [{ id: 40 }],
  revisions: [{ id: 5, withdrawn_at: null }], panels: [], draft: null, shownRevision: null,
});
const note = (more) => ({ id: 44, version: 1, author: { id: 1 }, body: "Lower.", tone: "try", region: null, lines: [], state: "open", ...more });
const fields = (body) => ({ body, tone: "try", held: false, scope: "page" });

async function lost(pageId) {
  const state = desk(pageId);
  beginDraft(state, { scope: "page" });
  changeDraft(state, { body: "Lower." });
  answering("line");
  await assert.rejects(pinOnce(state, fields("Lower.")));
  return state;
}

test("a note whose answer was lost is changed and not pinned twice, when other words are sent then", async () => {
  const state = await lost(1);
  answering({ body: { results: [note(), note({ id: 39 })], next: null } }, { body: note({ body: "Much lower." }) });
  changeDraft(state, { body: "Much lower." });
  assert.equal((await pinOnce(state, fields("Much lower."))).body, "Much lower.");
  assert.deepEqual(asked.map(({ method, path }) => [method, path.split("?")[0]]), [["GET", "/pages/1/notes"], ["PATCH", "/notes/44"]]);
});

test("one that never arrived is pinned as it is written now, under another key", async () => {
  const state = await lost(2);
  const before = asked[0].key;
  answering({ body: { results: [note({ id: 40 })], next: null } }, { body: note({ id: 45, body: "Much lower." }) });
  await pinOnce(state, fields("Much lower."));
  assert.equal(asked[1].method, "POST");
  assert.notEqual(asked[1].key, before);
});

test("after the tab was closed the same words go under the same key", async () => {
  const state = await lost(3);
  const { key, sent } = readDraft(draftKey(state.known));
  assert.deepEqual([key, sent.fields.body, sent.after], [asked[0].key, "Lower.", 40]);
});

test("what is still written for new and comes in with the page's notes goes on as a change to it", async () => {
  const state = await lost(4);
  changeDraft(state, { body: "Lower, I think." });
  state.set({ notes: [{ id: 40 }, note()] });
  await Promise.resolve();
  assert.equal(state.known.draft.note.id, 44);
  assert.equal(state.known.draft.body, "Lower, I think.");
  assert.equal(readDraft(draftKey(state.known)), null);
});

test("and is done where nothing was added", async () => {
  const state = await lost(5);
  state.set({ notes: [{ id: 40 }, note()] });
  await Promise.resolve();
  assert.equal(state.known.draft, null);
});

test("a note that was only answered meanwhile takes the change that was begun before", async () => {
  answering({ status: 412, body: {} }, { body: note({ version: 2, state: "answered" }) }, { body: note({ version: 3 }) });
  await changeAsWritten({ note: note(), body: "Much lower.", tone: "try", region: null, lines: [] });
  assert.deepEqual(asked.map(({ method, version }) => [method, version]), [["PATCH", '"1"'], ["GET", undefined], ["PATCH", '"2"']]);
});

test("where its words were changed too they are told first, and a second time puts one's own in their place", async () => {
  const draft = { note: note(), body: "Much lower.", tone: "try", region: null, lines: [] };
  answering({ status: 412, body: {} }, { body: note({ version: 2, body: "Higher." }) }, { body: note({ version: 3 }) });
  await assert.rejects(changeAsWritten(draft), (problem) => problem.words.includes("“Higher.”"));
  await changeAsWritten(draft);
  assert.equal(asked[2].version, '"2"');
});
