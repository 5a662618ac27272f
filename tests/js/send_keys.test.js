import assert from "node:assert/strict";
import { test } from "node:test";
import { hasArrived, keyOfSending, nameOfSending } from "../../static/js/api/send_keys.js";

const file = { name: "p03.png", size: 1200, lastModified: 5 };
const sending = (path, fields = {}) => nameOfSending(path, { image: file, stage: "pencil", ...fields });

test("a file has one key until it has arrived, and another one afterwards", () => {
  const first = keyOfSending(sending("/pages/3/revisions"));
  assert.equal(keyOfSending(sending("/pages/3/revisions")), first);
  hasArrived(sending("/pages/3/revisions"));
  assert.notEqual(keyOfSending(sending("/pages/3/revisions")), first);
});

test("another place, another field or another file has a key of its own", () => {
  const keys = [sending("/pages/4/revisions"), sending("/pages/5/revisions"), sending("/pages/4/revisions", { stage: "final" }),
    sending("/pages/4/revisions", { image: { ...file, size: 1201 } })].map((one) => keyOfSending(one));
  assert.equal(new Set(keys).size, 4);
});

test("what is empty is not sent and names nothing", () => {
  assert.equal(sending("/a", { minutes_spent: "" }), sending("/a"));
});

test("a key that the server has forgotten is not used again", () => {
  const first = keyOfSending(sending("/boards/1/sheets"), 0);
  assert.equal(keyOfSending(sending("/boards/1/sheets"), 1000), first);
  assert.notEqual(keyOfSending(sending("/boards/1/sheets"), 3 * 24 * 3600 * 1000), first);
});
