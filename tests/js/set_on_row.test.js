import assert from "node:assert/strict";
import { mock, test } from "node:test";

// What is told lies on a slip for a while; nothing is shown here.
globalThis.document = { getElementById: () => null, createElement: () => ({ append() {}, addEventListener() {}, setAttribute() {}, remove() {} }) };
mock.timers.enable({ apis: ["setTimeout"] });
const { Problem } = await import("../../static/js/api/http.js");
const { setterOn } = await import("../../static/js/screens/set_on_row.js");

/** A server with one panel, which can be read and has its still set. */
function server() {
  const kept = { row: { id: 3, version: 1, still: null, happens: "" }, refused: [] };
  const change = (fields) => { kept.row = { ...kept.row, ...fields, version: kept.row.version + 1 }; return kept.row; };
  globalThis.fetch = async (address) => ({ ok: address === "/api/v1/panels/3", text: async () => JSON.stringify(kept.row) });
  const tie = (still) => async ({ version }) => {
    if (version !== kept.row.version) throw new Problem({ detail: "Someone changed this panel." }, 412);
    return change({ still });
  };
  return { kept, change, tie, set: setterOn("panels", kept.row, ({ still }) => still), onRefusal: ({ message }) => kept.refused.push(message) };
}

test("words that were written meanwhile stand in nobody's way", async () => {
  const { kept, change, tie, set, onRefusal } = server();
  change({ happens: "Rain." });
  assert.equal((await set(tie("mill"), { onRefusal })).still, "mill");
  assert.deepEqual([kept.row.happens, kept.refused], ["Rain.", []]);
});

test("where the same was set by somebody else it is said, and set the second time", async () => {
  const { kept, change, tie, set, onRefusal } = server();
  change({ still: "quay" });
  assert.equal(await set(tie("mill"), { onRefusal }), undefined);
  assert.equal(kept.row.still, "quay");
  assert.match(kept.refused[0], /^Somebody set this meanwhile/);
  await set(tie("mill"), { onRefusal });
  assert.equal(kept.row.still, "mill");
});
