import assert from "node:assert/strict";
import { test } from "node:test";
import { isMovedSince, moveAsSeen, withHeld, withPicture } from "../../static/js/screens/moves_facts.js";

const move = (name, refusal = null) => ({ move: name, refusal });
const codeOf = ({ refusal }) => refusal?.code ?? null;

test("a must note that is sent along stands against a sign-off, and against nothing else", () => {
  const [must, ask] = [{ tone: "must" }, { tone: "ask" }];
  assert.equal(codeOf(withHeld(move("sign-off"), [ask, must])), "held-must");
  assert.equal(codeOf(withHeld(move("send-back"), [must])), null);
  assert.equal(codeOf(withHeld(move("sign-off"), [ask])), null);
  assert.equal(codeOf(withHeld(move("sign-off"), [])), null);
  assert.equal(codeOf(withHeld(move("sign-off", { code: "not-handed-in" }), [must])), "not-handed-in");
});

test("a picture that came since stands against every move that could be made", () => {
  const [first, second] = [{ id: 5, number: 1, state: "ready" }, { id: 9, number: 2, state: "ready" }];
  assert.equal(codeOf(withPicture(move("sign-off"), first, first)), null);
  for (const name of ["hand-in", "sign-off", "send-back"]) assert.match(withPicture(move(name), first, second).refusal.reason, /^Revision 2 is the page's picture by now/);
  assert.equal(codeOf(withPicture(move("sign-off", { code: "checks-running" }), first, second)), "another-picture");
  assert.equal(codeOf(withPicture(move("sign-off", { code: "not-handed-in" }), first, second)), "not-handed-in");
  assert.equal(codeOf(withPicture(move("hand-in"), null, second)), "another-picture");
});

test("one that was on its way as the moves were opened was not seen, and is not signed off unseen", () => {
  const [before, now] = [{ id: 9, number: 2, state: "received" }, { id: 9, number: 2, state: "ready" }];
  assert.equal(codeOf(withPicture(move("sign-off"), before, now)), "another-picture");
  assert.equal(codeOf(withPicture(move("hand-in"), before, now)), null);
});

const stale = Object.assign(new Error("stale"), { status: 412 });
/** A page that somebody changed after it was read: to `now`. @param {any} now */
function refusedOnce(now) {
  const [seen, sent] = [{ version: 3, stage: "pencil", waits_for: "reviewer" }, /** @type {number[]} */ ([])];
  const desk = { row: /** @type {any} */ (seen) };
  const send = async (row) => {
    sent.push(row.version);
    if (row.version === 3) throw stale;
    return "made";
  };
  const readAnew = async () => { desk.row = { ...seen, ...now }; };
  return { sent, answer: moveAsSeen({ rowNow: () => desk.row, isAsSeen: () => !isMovedSince("pages", seen, desk.row), send, readAnew }) };
}

test("a move goes on where only a word or a number was changed meanwhile, and stops where the page was moved", async () => {
  const byWord = refusedOnce({ version: 4, said: "Ahoy." });
  assert.equal(await byWord.answer, "made");
  assert.deepEqual(byWord.sent, [3, 4]);
  const byMove = refusedOnce({ version: 4, stage: "final" });
  assert.equal(await byMove.answer, null);
  assert.deepEqual(byMove.sent, [3]);
});
