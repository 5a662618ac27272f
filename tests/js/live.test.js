import assert from "node:assert/strict";
import { afterEach, beforeEach, test } from "node:test";
import { followBoard } from "../../static/js/api/live.js";

const said = [];
const textOf = (part) => (typeof part === "string" ? part : (part.parts ?? []).map(textOf).join(" "));
const slips = { append: (slip) => said.push(slip) };
const element = () => ({ parts: [], isConnected: true, append(...more) { this.parts.push(...more); }, setAttribute() {}, addEventListener() {}, remove() {} });
globalThis.document = /** @type {any} */ ({
  hidden: false, scripts: [], activeElement: null, addEventListener() {}, removeEventListener() {},
  getElementById: (id) => (id === "slips" ? slips : null), createElement: element,
});

// What keeps nothing alive when the tests are done.
globalThis.BroadcastChannel = /** @type {any} */ (class {
  postMessage() {}
  close() {}
});
if (!globalThis.navigator) globalThis.navigator = /** @type {any} */ ({});

let streams = [];
const stops = [];
globalThis.EventSource = /** @type {any} */ (class {
  static CLOSED = 2;
  constructor() { streams.push(this); }
  addEventListener() {}
  close() { this.isClosed = true; }
  refuse() { this.readyState = 2; this.onerror(); }
});
const answering = (status, body = {}) => { globalThis.fetch = /** @type {any} */ (async () => new Response(JSON.stringify(body), { status })); };
/** @param {() => any} isSo */
async function until(isSo) {
  for (let i = 0; i < 200 && !isSo(); i++) await new Promise((resolve) => setTimeout(resolve, 5));
  assert.ok(isSo());
}

beforeEach(() => {
  streams = [];
  said.length = 0;
});

afterEach(() => {
  for (const stop of stops.splice(0)) stop();
});

test("a reader who was taken off the board is told so, and asks no more", async () => {
  answering(200, { results: [] });
  stops.push(followBoard(901, 0, () => {}));
  await until(() => streams.length);
  answering(404, { title: "Not found." });
  streams[0].refuse();
  await until(() => said.length && textOf(said[0]).includes("Your boards"));
  assert.match(textOf(said[0]), /no seat on this board any more/);
  assert.ok(streams[0].isClosed);
});

test("a stream that breaks while the log can be read is opened again, and nothing is said", async (context) => {
  answering(200, { results: [] });
  context.mock.timers.enable({ apis: ["setTimeout"] });
  stops.push(followBoard(902, 0, () => {}));
  for (let i = 0; i < 20 && !streams.length; i++) await new Promise((resolve) => setImmediate(resolve));
  streams[0].refuse();
  context.mock.timers.tick(5000);
  assert.equal(streams.length, 2);
  assert.deepEqual(said, []);
});
