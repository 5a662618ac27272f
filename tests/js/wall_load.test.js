import assert from "node:assert/strict";
import { test } from "node:test";
import { State } from "../../static/js/screens/state.js";
import { load, readBoardNotes, reloader } from "../../static/js/screens/wall_load.js";
import { slowServer } from "./slow_server.js";

globalThis.document ??= { querySelector: () => null, getElementById: () => null };

const wall = () => new State({ board: { id: 1 }, pages: [], row: null, lastEvent: 0 });
const list = (...pages) => ({ results: pages.map(([id, version]) => ({ id, version, number: id })), next: null });
const shown = ({ known }) => known.pages.map(({ id, version }) => [id, version]);

/** Answers one reading of the whole board, the one that asked `at`. */
async function answer(asked, at, ...pages) {
  asked.filter(({ address }) => address.includes("/pages"))[at].answer(list(...pages));
  answerBoard(asked, at);
}

function answerBoard(asked, at) {
  asked.filter(({ address }) => address.endsWith("/boards/1"))[at].answer({ id: 1 });
  asked.filter(({ address }) => address.includes("/boards/1/notes"))[at].answer(list());
}

test("an older list that arrives late does not bring a page back", async (t) => {
  const asked = slowServer(t);
  const state = wall();
  const readings = [load(state), load(state)];
  await answer(asked, 1, [1, 1]);
  await readings[1];
  await answer(asked, 0, [1, 1], [2, 1]);
  await readings[0];
  assert.deepEqual(shown(state), [[1, 1]]);
});

test("a page read by itself stands against an older list, and gives way to a newer one", async (t) => {
  const asked = slowServer(t);
  const state = wall();
  const first = load(state);
  await answer(asked, 0, [1, 1], [2, 1]);
  await first;
  const older = load(state);
  const one = new Promise((resolve) => state.on(["pages"], ({ pages }) => pages[0]?.version === 5 && resolve()));
  reloader(state, 0)({ kind: "note-pinned", page: 1, number: 1 });
  while (!asked.some(({ address }) => address.endsWith("/pages/1"))) await new Promise((resolve) => setTimeout(resolve, 5));
  asked.find(({ address }) => address.endsWith("/pages/1")).answer({ id: 1, version: 5, number: 1 });
  await one;
  const lists = asked.filter(({ address }) => address.includes("/boards/1/pages"));
  lists[1].answer(list([1, 4], [2, 2]));
  answerBoard(asked, 1);
  await older;
  assert.deepEqual(shown(state), [[1, 5], [2, 2]]);
  const newer = load(state);
  asked.filter(({ address }) => address.includes("/boards/1/pages"))[2].answer(list([1, 6], [2, 2]));
  answerBoard(asked, 2);
  await newer;
  assert.deepEqual(shown(state), [[1, 6], [2, 2]]);
});

test("what happens on a page that is laid aside does not put it on the Wall", async (t) => {
  const asked = slowServer(t);
  const state = wall();
  reloader(state, 0)({ kind: "note-pinned", page: 9, number: 1 });
  while (!asked.length) await new Promise((resolve) => setTimeout(resolve, 5));
  asked[0].answer({ id: 9, version: 1, number: 9, laid_aside_at: "2026-11-29T00:00:00Z" });
  await new Promise((resolve) => setTimeout(resolve, 20));
  assert.deepEqual(shown(state), []);
});

test("an older reading of the notes on the comic does not undo a newer", async (t) => {
  const asked = slowServer(t);
  const state = wall();
  const readings = [readBoardNotes(state), readBoardNotes(state)];
  asked[1].answer(list([1, 2]));
  await readings[1];
  asked[0].answer(list([1, 1]));
  await readings[0];
  assert.equal(state.known.boardNotes[0].version, 2);
});
