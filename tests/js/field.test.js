import assert from "node:assert/strict";
import { test } from "node:test";

const heard = {};
const fields = new Map();
globalThis.document = /** @type {any} */ ({ createElement: () => ({ append() {}, setAttribute() {}, addEventListener(name, does) { heard[name] = does; } }) });
globalThis.FormData = /** @type {any} */ (class { [Symbol.iterator]() { return fields.entries(); } });
const { form } = await import("../../static/js/elements/field.js");

function pressed() {
  const event = { isStopped: false, preventDefault() {}, stopPropagation() { event.isStopped = true; } };
  return { event, done: heard.submit(event) };
}

test("pressed twice on a slow line it is done once, with other words or after the answer again", async () => {
  const sent = [];
  form({}, (values) => new Promise((resolve) => sent.push({ values, resolve })));
  fields.set("title", "A round");
  const [first, second] = [pressed(), pressed()];
  assert.deepEqual([sent.length, first.event.isStopped, second.event.isStopped], [1, false, true]);
  fields.set("title", "Another");
  pressed();
  assert.deepEqual(sent.map(({ values }) => values.title), ["A round", "Another"]);
  fields.set("title", "A round");
  sent[0].resolve();
  await first.done;
  pressed();
  assert.equal(sent.length, 3);
});

test("what went wrong may be sent again", async () => {
  let tries = 0;
  form({}, () => {
    tries += 1;
    throw new TypeError("no line");
  });
  await assert.rejects(pressed().done);
  await assert.rejects(pressed().done);
  assert.equal(tries, 2);
});
