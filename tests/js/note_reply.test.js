import assert from "node:assert/strict";
import { test } from "node:test";

const made = [];
const element = (tag) => ({
  tag, value: "", on: {}, append() {}, setAttribute() {}, remove() {}, focus() {}, isConnected: true, dispatchEvent({ type }) { this.on[type](); }, addEventListener(name, does) { this.on[name] = does; },
});
globalThis.setTimeout = /** @type {any} */ (() => 0); // no slip is waited for
const stored = new Map();
globalThis.document = /** @type {any} */ ({
  createElement(tag) { const one = element(tag); made.push(one); return one; }, querySelector: (selector) => (selector === '[data-key="reply-4"]' ? made.findLast(({ tag }) => tag === "textarea") : null), getElementById: () => null, scripts: [],
});
globalThis.localStorage = /** @type {any} */ ({ setItem: (key, text) => stored.set(key, text), getItem: (key) => stored.get(key) ?? null, removeItem: (key) => stored.delete(key) });
const asked = [];
globalThis.fetch = /** @type {any} */ ((_address, { body }) => new Promise((resolve) => asked.push({ body: JSON.parse(body).body, answer: () => resolve(new Response("{}")) })));
const { replyField } = await import("../../static/js/elements/note_deeds.js");

test("a reply that is pressed twice is sent once, and what is typed on meanwhile stays", async () => {
  let changed = 0;
  replyField({ id: 4 }, { id: 7 }, () => { changed += 1; });
  const [area, send] = [made.find(({ tag }) => tag === "textarea"), made.find(({ tag }) => tag === "button")];
  const type = (words) => { area.value = words; area.on.input(); };
  type("I see it.");
  const sending = send.on.click();
  send.on.click();
  type("I see it. The door too.");
  asked[0].answer();
  await sending;
  assert.deepEqual([asked.map(({ body }) => body), area.value, send.hidden, [...stored.values()], changed], [["I see it."], "The door too.", false, ['"The door too."'], 1]);
  const next = send.on.click();
  asked[1].answer();
  await next;
  assert.deepEqual([asked[1].body, area.value, send.hidden, stored.size], ["The door too.", "", true, 0]);
});

test("a note that is drawn anew before its reply is answered does not hold the words that were sent", async () => {
  asked.length = 0;
  const draw = () => {
    made.length = 0;
    replyField({ id: 4 }, { id: 7 }, () => {});
    return [made.find(({ tag }) => tag === "textarea"), made.find(({ tag }) => tag === "button")];
  };
  const [area, send] = draw();
  area.value = "I see it.";
  area.on.input();
  const sending = send.on.click();
  area.isConnected = false;
  const [fresh, again] = draw();
  assert.equal(fresh.value, "I see it.");
  again.on.click();
  asked[0].answer();
  await sending;
  assert.deepEqual([asked.length, fresh.value, again.hidden, stored.size], [1, "", true, 0]);
});
