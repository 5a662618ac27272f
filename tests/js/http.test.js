import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { Problem, call } from "../../static/js/api/http.js";

const meta = { content: "old", dataset: { person: "7" } };
const cookies = { text: "" };
globalThis.document = /** @type {any} */ ({ querySelector: () => meta, scripts: [], get cookie() { return cookies.text; } });

/** @type {{address: string, options: any}[]} */
let asked = [];
/** @param {(((address: string) => Response) | "line")[]} answers one after the other; "line" for one that breaks */
function answering(...answers) {
  globalThis.fetch = /** @type {any} */ (async (address, options) => {
    asked.push({ address, options });
    const answer = answers.shift();
    if (answer === "line") throw new TypeError("network");
    return /** @type {any} */ (answer)(address);
  });
}
const json = (body, status = 200) => () => new Response(JSON.stringify(body), { status });
const keys = () => asked.map(({ options }) => options.headers["Idempotency-Key"]);
const tokens = () => asked.map(({ options }) => options.headers["X-CSRFToken"]);

beforeEach(() => {
  asked = [];
  Object.assign(meta, { content: "old" });
  cookies.text = "other=1; csrftoken=new";
});

test("what got no answer goes under the same key when it is sent again, and under another once it arrived", async () => {
  answering("line", json({ id: 1 }), json({ id: 2 }));
  const send = (body) => call("POST", "/notes/3/replies", { body: { body } });
  await assert.rejects(send("Yes."), (problem) => problem instanceof Problem && problem.isUnanswered);
  await send("Yes.");
  await send("Yes.");
  assert.equal(keys()[0], keys()[1]);
  assert.notEqual(keys()[1], keys()[2]);
});

test("other words are another sending", async () => {
  answering("line", json({ id: 1 }));
  await assert.rejects(call("POST", "/notes/3/replies", { body: { body: "Yes." } }));
  await call("POST", "/notes/3/replies", { body: { body: "No." } });
  assert.notEqual(keys()[0], keys()[1]);
});

test("a line that breaks in the middle of an answer is a line that broke", async () => {
  answering(() => /** @type {any} */ ({ ok: true, status: 200, text: () => Promise.reject(new TypeError("cut off")) }));
  await assert.rejects(call("GET", "/me"), (problem) => problem instanceof Problem && problem.status === 0);
});

test("after the same person signed in again a page goes on by itself", async () => {
  answering(json({ type: "/problems/csrf-failed" }, 403), json({ id: 7, name: "Wim" }), json({ id: 1 }));
  assert.deepEqual(await call("PATCH", "/notes/3", { body: { body: "Yes." }, version: 2 }), { id: 1 });
  assert.deepEqual(tokens(), ["old", undefined, "new"]);
  assert.equal(asked[2].options.headers["If-Match"], '"2"');
});

test("what one wrote is not sent in the name of somebody else who signed in", async () => {
  answering(json({ type: "/problems/csrf-failed" }, 403), json({ id: 8, name: "Oriel" }));
  await assert.rejects(call("POST", "/notes/3/replies", { body: { body: "Yes." } }), (problem) => problem.words.includes("Oriel is signed in"));
  assert.equal(asked.length, 2);
  assert.equal(meta.content, "old");
});

test("who is signed out is told how to go on", async () => {
  answering(json({ detail: "A token is sent as `Authorization: Bearer TOKEN`." }, 401));
  await assert.rejects(call("DELETE", "/notes/3", { version: 1 }), (problem) => problem.isSignedOut && problem.words.includes("Sign in in another tab"));
});
