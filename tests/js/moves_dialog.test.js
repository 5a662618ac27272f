import assert from "node:assert/strict";
import { test } from "node:test";

// The module reads the width of the screen when it comes.
globalThis.matchMedia = () => ({ matches: false });
const { withHeld } = await import("../../static/js/screens/moves_dialog.js");

const move = (name, refusal = null) => ({ move: name, refusal });

test("a must note that is sent along stands against a sign-off, and against nothing else", () => {
  const [must, ask] = [{ tone: "must" }, { tone: "ask" }];
  assert.equal(withHeld(move("sign-off"), [ask, must]).refusal.code, "held-must");
  assert.equal(withHeld(move("send-back"), [must]).refusal, null);
  assert.equal(withHeld(move("sign-off"), [ask]).refusal, null);
  assert.equal(withHeld(move("sign-off"), []).refusal, null);
  assert.equal(withHeld(move("sign-off", { code: "not-handed-in" }), [must]).refusal.code, "not-handed-in");
});
