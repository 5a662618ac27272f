import assert from "node:assert/strict";
import { test } from "node:test";

const heard = {};
const stored = new Map();
globalThis.setTimeout = /** @type {any} */ (() => 0); // what would be sent in a moment is sent where a test says so
globalThis.addEventListener = (name, does) => { heard[name] = does; };
globalThis.document = /** @type {any} */ ({ addEventListener() {}, querySelector: () => null, getElementById: () => null, scripts: [], createElement: () => ({ append() {}, remove() {}, setAttribute() {}, addEventListener() {} }) });
globalThis.performance.getEntriesByType = () => [];
globalThis.localStorage = /** @type {any} */ ({ setItem: (key, text) => stored.set(key, text), getItem: (key) => stored.get(key) ?? null, removeItem: (key) => stored.delete(key) });
const { keeper } = await import("../../static/js/screens/critique_kept.js");

const point = (body) => ({ kind: "works", body, why: "", how: "", page: null, region: null, criterion: null });
const server = { points: [point("The light.")], isReached: true, is_sent: false };
const answer = () => ({ id: 7, points: server.points, is_sent: server.is_sent, delivered_at: null });
globalThis.fetch = /** @type {any} */ (async (_address, { method, body }) => {
  if (!server.isReached) throw new TypeError("no line");
  if (method === "PUT") server.points = JSON.parse(body).points;
  return { ok: true, status: 200, text: async () => JSON.stringify(answer()) };
});

function open() {
  const known = { one: answer(), points: answer().points.map((one) => ({ ...one })) };
  const told = [];
  const keeps = keeper(known, "critique 7 by 3", { kept: () => told.push("kept"), notYet: () => told.push("not yet"), came: () => told.push("came") });
  keeps.takeUp();
  return { known, told, ...keeps };
}

function write(window, words) {
  window.known.points[0].body = words;
  window.changed();
}

test("without a line it is kept here, and sent as soon as there is one", async () => {
  const window = open();
  server.isReached = false;
  write(window, "Written in the train.");
  assert.equal(await window.save(), false);
  server.isReached = true;
  await heard.online();
  assert.deepEqual(server.points, [point("Written in the train.")]);
  assert.deepEqual([window.told, stored.size], [["not yet", "kept"], 0]);
});

test("who leaves at once finds the words again, and they are sent then", async () => {
  write(open(), "The last words.");
  assert.notEqual(server.points[0].body, "The last words.");
  const again = open();
  assert.equal(again.known.points[0].body, "The last words.");
  await again.save();
  assert.equal(server.points[0].body, "The last words.");
});

test("two windows keep what was written in both", async () => {
  const [one, other] = [open(), open()];
  write(one, "From the one.");
  await one.save();
  write(other, "From the other.");
  await other.save();
  assert.deepEqual(server.points.map(({ body }) => body), ["From the other.", "From the one."]);
  assert.deepEqual(other.told, ["came", "kept"]);
});

test("what was written while it was sent without it is told apart, outlives the tab, and goes into the form again when it is taken back", async () => {
  const window = open();
  const sent = server.points;
  server.is_sent = true;
  write(window, "One more thing.");
  assert.equal(await window.save(), false);
  assert.deepEqual([window.known.points, window.known.apart.map(({ body }) => body)], [sent, ["One more thing."]]);
  const again = open();
  assert.deepEqual([again.known.points, again.known.apart.map(({ body }) => body)], [sent, ["One more thing."]]);
  server.is_sent = false;
  again.arrived(answer());
  assert.deepEqual([again.known.points[0].body, again.known.apart], ["One more thing.", []]);
  await again.save();
  assert.equal(server.points[0].body, "One more thing.");
});

test("what is typed while it is being sent is not taken for sent, and may be left out", async () => {
  const window = open();
  await window.save();
  write(window, "Typed too late.");
  server.is_sent = true;
  window.arrived(answer());
  assert.deepEqual(window.known.apart.map(({ body }) => body), ["Typed too late."]);
  window.letGo();
  assert.deepEqual([open().known.apart ?? [], stored.size], [[], 0]);
  server.is_sent = false;
});
