import assert from "node:assert/strict";
import { mock, test } from "node:test";

const said = [];
const textOf = (part) => (typeof part === "string" ? part : (part.parts ?? []).map(textOf).join(" "));
const element = () => ({ parts: [], append(...more) { this.parts.push(...more); }, setAttribute() {}, addEventListener() {}, remove() {} });
globalThis.document = /** @type {any} */ ({ getElementById: () => ({ append: (slip) => said.push(textOf(slip).trim()) }), createElement: element });
mock.timers.enable({ apis: ["setTimeout"] });
const { tellNews } = await import("../../static/js/screens/desk_news.js");

const [me, wim] = [{ id: 1, name: "Oriel" }, { id: 2, name: "Wim" }];
const known = { me, notes: [], panels: [{ id: 7, order: 2 }], page: { laid_aside_at: "2031-05-02T10:00:00Z" }, board: { id: 3 }, revision: null };
const tell = (...changes) => {
  said.length = 0;
  tellNews(changes.map((change) => ({ data: {}, ...change })), { measured: new Set(), isBusy: false }, known);
  return [...said];
};

test("a panel that somebody hands in is named", () => {
  assert.deepEqual(tell({ kind: "panel-hand-in", actor: wim, data: { panel: 7 } }, { kind: "panel-sign-off", actor: me, data: { panel: 7 } }), ["Wim handed in panel 2."]);
});

test("who looks at a page that somebody lays aside is told, and who laid it aside is not", () => {
  assert.match(tell({ kind: "page-laid-aside", actor: wim })[0], /^Wim laid this page aside: it is not in the comic now/);
  assert.deepEqual(tell({ kind: "page-laid-aside", actor: me }), []);
});
