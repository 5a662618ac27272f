import { readBoard } from "../api/boards.js";
import { Problem } from "../api/http.js";
import { followBoard } from "../api/live.js";
import { pagesOfBoard } from "../api/pages.js";
import { h, swap } from "../elements/h.js";
import { say } from "../elements/slips.js";
import { count } from "../elements/words.js";
import { spreadsOf } from "../geometry/spreads.js";
import { dropFiles } from "../gestures/drop_file.js";
import { uploadMany } from "./dialogs_on_demand.js";
import { State } from "./state.js";
import { wallPage } from "./wall_page.js";
import { wallTools } from "./wall_tools.js";

const shell = JSON.parse(document.getElementById("shell").textContent);
const spreads = document.getElementById("spreads");
const state = new State({ ...shell, pages: null, row: null });

state.on(["pages"], ({ pages }) => {
  if (!pages) return;
  spreads.setAttribute("aria-busy", "false");
  swap(spreads, ...(pages.length ? spreadsOf(pages, shell.board.reading).map(drawSpread) : [teach()]));
});
state.on(["pages"], ({ pages }) => pages && document.getElementById("sum").replaceChildren(sumOf(pages)));
state.on(["row"], () => swap(document.getElementById("wall-tools"), ...wallTools(state, load)));

/** Reads the board and its pages anew. */
export async function load() {
  try {
    const [pages, row] = await Promise.all([pagesOfBoard(shell.board.id), readBoard(shell.board.id)]);
    state.set({ pages, row });
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    say(error.words, { isFault: true });
  }
}

function drawSpread(spread) {
  if ("gap" in spread) return gap(spread.gap);
  const { left, right, both, missing, from, to } = spread;
  const label = both || to === 1 ? `Page ${[...new Set([from, to].filter((n) => n > 0))].join(" and ")}` : `Pages ${from} and ${to}`;
  const half = (page, number, side) => (page ? wallPage(page, state, load, side) : h("div", { class: `leaf blank ${side}` }, number && place(number)));
  return h("section", { class: both ? "spread is-one" : "spread", "aria-label": to === 1 ? "Page 1" : label },
    both ? wallPage(both, state, load, "both") : [half(left, missing.left, "left"), half(right, missing.right, "right")]);
}

const place = (number) => h("span", { class: "quiet" }, `page ${number} is not here yet`);

function gap([from, to]) {
  return h("p", { class: "gap quiet" }, from === to ? `Page ${from} is not here yet.` : `Pages ${from} to ${to} are not here yet.`);
}

function sumOf(pages) {
  const waiting = pages.filter((page) => page.waits_for === "reviewer").length;
  const finished = pages.filter((page) => page.waits_for === "nobody").length;
  const open = pages.reduce((sum, page) => sum + page.open_notes.must + page.open_notes.try + page.open_notes.ask + page.open_notes.keep, 0);
  const parts = [count(pages.length, "page"), `${finished} finished`, waiting && `${waiting} handed in`, count(open, "open note")];
  return parts.filter(Boolean).join(", ");
}

function teach() {
  return h("div", { class: "teach" },
    h("h2", {}, "The Wall is empty"),
    h("p", {}, "Here the comic hangs as it will be read: spread by spread, each page wearing its stage, from a loose thumbnail to the inked final."),
    h("p", {}, shell.may.run_board || shell.may.draw
      ? "Add the first page, then drop a drawing on it. A sheet with several thumbnails can be cut into pages."
      : "Nobody has added a page yet. It will appear here by itself."));
}

/** A burst of changes is read once. */
const burst = { timer: null };
followBoard(shell.board.id, shell.last_event, () => {
  burst.timer ??= setTimeout(() => {
    burst.timer = null;
    load();
  }, 250);
});
if (shell.may.draw) dropFiles(document.querySelector(".wall"), (files) => uploadMany(state.known, load, files));
load();
