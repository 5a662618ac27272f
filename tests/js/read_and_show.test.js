import assert from "node:assert/strict";
import { test } from "node:test";
import { Problem } from "../../static/js/api/http.js";

globalThis.document = /** @type {any} */ ({ querySelector: () => null, getElementById: () => null, createElement: () => ({ append() {}, addEventListener() {}, setAttribute() {}, remove() {} }) });
const { readAndShow } = await import("../../static/js/elements/read_and_show.js");

const settled = () => new Promise((resolve) => setImmediate(resolve));

test("what a screen begins with is read again until the line is back", async (t) => {
  t.mock.timers.enable({ apis: ["setTimeout"] });
  const line = { isBroken: true };
  const shown = [];
  const read = async () => {
    if (line.isBroken) throw new Problem({ detail: "No line." }, 0);
    return "all of it";
  };
  await readAndShow("screen", read, (answer) => shown.push(answer))();
  t.mock.timers.tick(4000);
  await settled();
  line.isBroken = false;
  assert.deepEqual(shown, []);
  t.mock.timers.tick(4000);
  await settled();
  assert.deepEqual(shown, ["all of it"]);
});

test("what is refused is not asked for again, and an older answer does not undo a newer", async (t) => {
  t.mock.timers.enable({ apis: ["setTimeout"] });
  const asked = [];
  const shown = [];
  const load = readAndShow("screen", () => new Promise((resolve, reject) => asked.push({ resolve, reject })), (answer) => shown.push(answer));
  const readings = [load(), load(), load()];
  asked[1].resolve("newer");
  await readings[1];
  asked[0].resolve("older");
  asked[2].reject(new Problem({ detail: "Not yours." }, 403));
  await Promise.all(readings);
  t.mock.timers.tick(60_000);
  assert.deepEqual([shown, asked.length], [["newer"], 3]);
});
