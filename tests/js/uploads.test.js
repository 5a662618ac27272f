import assert from "node:assert/strict";
import { test } from "node:test";
import { naturally, numbersTyped, pagesIn, stageIn } from "../../static/js/uploads/file_names.js";
import { GRID, alikePairs, glanceOf } from "../../static/js/uploads/likeness.js";
import { isAhead, matchByName, numbersProposed, pictureWords, withNewPages } from "../../static/js/uploads/matching.js";
import { UploadQueue } from "../../static/js/uploads/queue.js";
import { Reading } from "../../static/js/uploads/reading.js";
import { newestLast, sharedPlaces } from "../../static/js/uploads/same_place.js";

const page = (number, file = "", more = {}) => ({ id: 100 + number, numbers: [number], stage: "pencil", current_revision: { file_name: file, sha256: `sha-${number}` }, ...more });

test("a picture for another stage than the page stands at is told to be kept, not to be its new one", () => {
  const shown = { stage: "thumbnail", current_revision: { stage: "thumbnail" } };
  assert.equal(pictureWords(shown, "pencil"), "kept as a pencil until the page moves on from thumbnail");
  assert.equal(pictureWords(shown, "thumbnail"), "a new revision");
  assert.equal(pictureWords({ stage: "pencil", current_revision: { stage: "pencil" } }, "thumbnail"), "kept as a thumbnail; the page goes on showing its pencil");
  assert.equal(pictureWords({ stage: "pencil", current_revision: { stage: "thumbnail" } }, "thumbnail"), "a new revision");
  assert.equal(pictureWords({ stage: "thumbnail", current_revision: null }, "pencil"), "its first picture");
  assert.deepEqual(["thumbnail", "pencil", "final"].map((stage) => isAhead(shown, stage)), [false, true, true]);
});

test("a sheet's parts are proposed the pages without a picture, and a spread only once, by whichever of its numbers it was given", () => {
  const blank = (id, ...numbers) => ({ id, number: numbers[0], numbers, stage: "thumbnail", current_revision: null });
  const pages = [blank(13, 3), blank(14, 4, 5), blank(16, 6)];
  const proposed = (given) => numbersProposed(["a", "b", "c", "d"], new Map(given), pages);
  assert.deepEqual(proposed([]), [3, 4, 6, 7]);
  assert.deepEqual(proposed([["a", 5]]), [5, 3, 6, 7]);
  assert.deepEqual(proposed([["b", null], ["c", 9]]), [3, null, 9, 4]);
});

test("names sort as people count", () => {
  assert.deepEqual(["p10.png", "p9.png", "P1.png"].sort(naturally), ["P1.png", "p9.png", "p10.png"]);
});

/** A number, two of a spread as text, or null. */
const read = (names) => pagesIn(names).map(({ numbers }) => (numbers?.length === 2 ? numbers.join("-") : (numbers?.[0] ?? null)));

test("a page number is read where it can be read one way", () => {
  const cases = { "mill_p03_v2.png": 3, "Page 12 final.tif": 12, "007.png": 7, "mill 300dpi 14.png": 14, "pages 04-05.png": "4-5", "04-05 spread.png": "4-5",
    "mill-2026-03-14-p8.png": 8, "ch03_p11.png": 11, "tide (2).png": null, "IMG_2231.jpg": null, "quay.png": null, "p0.png": null };
  assert.deepEqual(Object.fromEntries(Object.keys(cases).map((name) => [name, read([name])[0]])), cases);
});

test("of several numbers the one that changes from file to file is the page's", () => {
  assert.deepEqual(read(["mill 7 b 01.png", "mill 7 b 02.png", "mill 7 b 03.png"]), [1, 2, 3]);
  assert.deepEqual(read(["mill 7 b 01.png"]), [null]);
});

test("a stage is read where one word names it", () => {
  assert.equal(stageIn("p3_inks.png"), "final");
  assert.equal(stageIn("p3-thumbs-v4.jpg"), "thumbnail");
  assert.equal(stageIn("final pencils 3.png"), null);
  assert.equal(stageIn("finally.png"), null);
});

test("a page's picture is known again by its file name, its trunk and its bytes", () => {
  const pages = [page(1, "quay pencil.png"), page(2, "sheet.png"), page(3, "sheet.png"), page(4, "wheel.ora")];
  const found = matchByName([{ name: "Quay_final_v2.png" }, { name: "sheet.png" }, { name: "wheel.ora" }, { name: "x.png", sha256: "sha-3" }], pages);
  assert.deepEqual(found.map(({ numbers, how }) => [numbers?.[0] ?? null, how]), [[1, "file"], [null, "none"], [4, "file"], [3, "same"]]);
  assert.equal(found[0].stage, "final");
});

test("a name's alternate and spread are handed on, and a panel's picture is for no page", () => {
  const pages = [page(1), page(2), page(6, "", { numbers: [6, 7] })];
  const found = withNewPages(matchByName([{ name: "p02b_thumbnail.png" }, { name: "p01_panel2_b.png" }, { name: "p06-07_thumbnail.png" }, { name: "p08-09.png" }, { name: "quay.png" }], pages), pages);
  assert.deepEqual(found.map(({ numbers, alternate, how }) => [numbers, alternate, how]),
    [[[2], "B", "name"], [null, null, "panel"], [[6, 7], null, "name"], [[8, 9], null, "new"], [[10], null, "new"]]);
});

test("a spread is typed with both its numbers", () => {
  const cases = { 6: [6], " 06 ": [6], "6-7": [6, 7], "6 – 7": [6, 7], "6-8": null, "7-6": null, 0: null, "": null, six: null, "6-": null };
  assert.deepEqual(Object.fromEntries(Object.keys(cases).map((text) => [text, numbersTyped(text)])), cases);
});

test("what matches nothing becomes new pages after the last, in order", () => {
  const found = withNewPages(matchByName([{ name: "b.png" }, { name: "p6.png" }, { name: "a.png" }, { name: "p1.png" }], [page(1), page(2)]), [page(1), page(2)]);
  assert.deepEqual(found.map(({ numbers, how }) => [...numbers, how]), [[8, "new"], [6, "new"], [7, "new"], [1, "name"]]);
});

test("of several files for one place the newest is sent last, and each tells which will be shown", () => {
  const row = (name, lane, lastModified, state = "") => ({ file: { name, lastModified }, lane, state });
  const [fresh, old, other] = [row("p17_new.png", "page 17", 20), row("p17.png", "page 17", 10), row("p18.png", "page 18", 5)];
  assert.deepEqual(newestLast([fresh, other, old]), [old, other, fresh]);
  const told = sharedPlaces([fresh, other, old], ({ lane }) => lane);
  assert.deepEqual([told.get(old), told.get(fresh), told.get(other)], [
    { isFirst: true, words: "p17_new.png is for it too and is sent after it, as the newer file: that one will be shown." },
    { isFirst: false, words: "p17.png is for it too. This one is sent last, as the newer file, and will be shown." }, undefined]);
  fresh.state = "sent"; // before the older one was added
  assert.match(sharedPlaces([fresh, old], ({ lane }) => lane).get(old).words, /^p17_new.png is for it too. This one is sent last, and will be shown.$/);
});

/** A page with a frame around one half, drawn with a loose line. */
function drawn(isLower, off = 0, dark = 40) {
  const gray = new Float32Array(GRID * GRID).fill(250);
  const top = (isLower ? 17 : 2) + off;
  for (let x = 3; x < 29; x++) for (const y of [top, top + 12]) gray[y * GRID + x] = dark;
  for (let y = top; y < top + 12; y++) for (const x of [3, isLower ? 20 : 12, 28]) gray[y * GRID + x] = dark;
  return glanceOf(gray, 0.7);
}

test("a page drawn again is known by its frames; a stranger is not", () => {
  const pages = [drawn(false), drawn(true), null];
  const [lower, upper, empty] = alikePairs([drawn(true, 1, 120), drawn(false, 0, 160), glanceOf(new Float32Array(GRID * GRID).fill(255), 0.7)], pages);
  assert.deepEqual([lower.page, upper.page, empty], [1, 0, null]);
  const stranger = glanceOf(Float32Array.from({ length: GRID * GRID }, (_, i) => ((i * 7919) % 251)), 0.7);
  assert.deepEqual(alikePairs([stranger], pages), [null]);
});

test("two files that look like one page are left to the person", () => {
  const [first, second] = alikePairs([drawn(true), drawn(true)], [drawn(true), drawn(true)]);
  assert.deepEqual([first, second], [null, null]);
});

const queueOf = (send, told = []) => new UploadQueue({ send, tell: ({ id, state }) => told.push(`${id} ${state}`), pause: async () => {} });
const items = (...lanes) => lanes.map((lane, i) => ({ id: i + 1, lane }));

test("a broken line is tried again, and what somebody else was in the way of; a refusal is not", async () => {
  const calls = [0, 0];
  const broken = [{ status: 0, words: "The line broke." }, { status: 409, type: "/problems/met-another-change" }];
  const queue = queueOf(async ({ id }) => {
    calls[id - 1] += 1;
    if (id === 1 && calls[0] < 3) throw Object.assign(new Error(), broken[calls[0] - 1]);
    if (id === 2) throw Object.assign(new Error(), { status: 415, words: "This is no picture." });
  });
  const both = items("a", "b");
  await queue.run(both);
  assert.deepEqual([both.map(({ state }) => state), calls, both[1].words], [["sent", "refused"], [3, 1], "This is no picture."]);
});

test("what stays broken is sent again at a push, and what arrived is not", async () => {
  let isDown = true;
  const sent = [];
  const queue = queueOf(async ({ id }) => {
    if (isDown && id === 2) throw Object.assign(new Error(), { status: 0 });
    sent.push(id);
  });
  const three = items("a", "b", "c");
  await queue.run(three);
  assert.deepEqual(three.map(({ state }) => state), ["sent", "broken", "sent"]);
  isDown = false;
  await queue.again();
  assert.deepEqual([three.map(({ state }) => state), sent.sort()], [["sent", "sent", "sent"], [1, 2, 3]]);
});

test("files for one page go one after the other, in order", async () => {
  const told = [];
  await queueOf(async () => new Promise((resolve) => { setTimeout(resolve, 1); }), told).run(items("a", "a", "b"));
  assert.ok(told.indexOf("1 sent") < told.indexOf("2 sending"));
  assert.ok(told.indexOf("3 sending") < told.indexOf("1 sent"));
});

test("a stop ends what is under way and what waits", async () => {
  const two = items("a", "a");
  const queue = queueOf((_, __, signal) => new Promise((_resolve, reject) => { signal.addEventListener("abort", () => reject(Object.assign(new Error(), { status: 0 }))); queue.stop(); }));
  await queue.run(two);
  assert.deepEqual(two.map(({ state }) => state), ["stopped", "stopped"]);
});

test("what was uploaded is followed until it was read, whatever of it takes long", async () => {
  const states = { 1: ["received", "received", "received", "ready"], 2: ["received", "refused"], 3: ["ready"] };
  const told = [];
  const read = async (id) => {
    const state = states[id].shift();
    if (id === 1 && states[1].length === 2) throw Object.assign(new Error(), { isUnanswered: true });
    return { state, reason: state === "refused" ? "The file is cut off." : "" };
  };
  const reading = new Reading({ tell: ({ answer }, { state, reason }) => told.push(`${answer.id} ${state} ${reason}`.trim()), read, pause: async () => {} });
  await Promise.all([1, 2, 3].map((id) => reading.follow({ answer: { id } })));
  assert.deepEqual(told, ["3 ready", "2 refused The file is cut off.", "1 ready"]);
  await reading.follow({ answer: { id: states[3].push("ready") && 3 } });
  assert.equal(told.length, 4);
});
