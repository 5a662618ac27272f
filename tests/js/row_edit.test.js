import assert from "node:assert/strict";
import { test } from "node:test";
import { Problem } from "../../static/js/api/http.js";
import { RowEdit } from "../../static/js/api/row_edit.js";

const fieldsOf = ({ happens, said }) => ({ happens, said });

/** A server with one row, which others write in as well; `sent` has what came in from here. */
function server(row) {
  const kept = { row: { id: 1, version: 1, ...row }, sent: [] };
  const others = (fields) => { kept.row = { ...kept.row, ...fields, version: kept.row.version + 1 }; };
  const send = async ({ version }, changed) => {
    kept.sent.push(changed);
    if (version !== kept.row.version) throw new Problem({ detail: "Someone changed this panel." }, 412);
    others(changed);
    return kept.row;
  };
  return { kept, others, send, edit: (how = {}) => new RowEdit(kept.row, { send, read: async () => kept.row, fieldsOf, ...how }) };
}

test("what was not changed is not sent, and where nothing was, nothing is", async () => {
  const { kept, edit } = server({ happens: "Rain.", said: "" });
  await edit().keep({ happens: "Rain.\r\n", said: "" });
  assert.deepEqual(kept.sent, []);
  await edit().keep({ happens: "Rain.", said: "PIM: Oh." });
  assert.deepEqual(kept.sent, [{ said: "PIM: Oh." }]);
});

test("another field that somebody else changed stays as they wrote it, and nobody is asked", async () => {
  const { kept, edit, others } = server({ happens: "Rain.", said: "" });
  const mine = edit();
  others({ said: "ODDA: Pull." });
  others({ is_gone: true });
  assert.deepEqual(await mine.keep({ happens: "Snow.", said: "" }), { conflicts: {}, taken: {} });
  assert.deepEqual(fieldsOf(kept.row), { happens: "Snow.", said: "ODDA: Pull." });
});

test("the same field is not taken over unseen: the second time it is, and only that one", async () => {
  const { kept, edit, others } = server({ happens: "Rain.", said: "" });
  const mine = edit();
  others({ happens: "A heron.", said: "ODDA: Pull." });
  const told = await mine.keep({ happens: "Snow.", said: "" });
  assert.deepEqual(told, { conflicts: { happens: "A heron." }, taken: { said: "ODDA: Pull." } });
  assert.equal(kept.row.happens, "A heron.");
  await mine.keep({ happens: "Snow.", said: "ODDA: Pull." });
  assert.deepEqual(fieldsOf(kept.row), { happens: "Snow.", said: "ODDA: Pull." });
  assert.deepEqual(kept.sent.at(-1), { happens: "Snow." });
});

test("what came after the first telling is told as well", async () => {
  const { kept, edit, others } = server({ happens: "Rain.", said: "" });
  const mine = edit();
  for (const happens of ["A heron.", "Two herons."]) {
    others({ happens });
    assert.deepEqual((await mine.keep({ happens: "Snow.", said: "" })).conflicts, { happens });
  }
  assert.equal(kept.row.happens, "Two herons.");
});

test("what arrived though its answer was lost is kept, and is no conflict", async () => {
  const { kept, edit, send } = server({ happens: "Rain.", said: "" });
  let isLost = true;
  const mine = edit({ send: async (row, changed) => {
    const answer = await send(row, changed);
    if (isLost) throw new Problem({ detail: "The server cannot be reached." }, 0);
    return answer;
  } });
  await assert.rejects(mine.keep({ happens: "Snow.", said: "" }), { status: 0 });
  isLost = false;
  assert.deepEqual((await mine.keep({ happens: "Snow.", said: "" })).conflicts, {});
  assert.equal(mine.row.version, kept.row.version);
  assert.equal(kept.sent.length, 2);
});

test("what can neither be sent nor read is said, and the change stays one on the row as it was opened", async () => {
  const { kept, edit, others } = server({ happens: "Rain.", said: "" });
  const refused = edit({ read: async () => { throw new Problem({ detail: "It is gone." }, 404); } });
  others({ said: "ODDA: Pull." });
  await assert.rejects(refused.keep({ happens: "Snow.", said: "" }), { status: 404 });
  assert.equal(refused.row.version, 1);
  const always = edit({ send: async () => { throw new Problem({ detail: "Someone changed this panel." }, 412); } });
  await assert.rejects(always.keep({ happens: "Snow.", said: "" }), { status: 412 });
  assert.equal(kept.row.happens, "Rain.");
});
