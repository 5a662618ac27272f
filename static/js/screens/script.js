import { pagesOfBoard } from "../api/pages.js";
import { panelsOfBoard } from "../api/panels.js";
import { button, h, swap } from "../elements/h.js";
import { keyedList } from "../elements/keyed.js";
import { drawsPage } from "../uploads/matching.js";
import { pageDialog, scriptDialog } from "./dialogs_of_comic.js";
import { keepReading } from "./keep_reading.js";
import { deedsOn } from "./script_deeds.js";
import { fits, panelsOf, wishIn } from "./script_facts.js";
import { scriptPage } from "./script_page.js";
import { showWish } from "./script_wish.js";
import { writtenOn } from "./script_write.js";
import { State } from "./state.js";

const at = (id) => document.getElementById(id);
const shell = JSON.parse(at("shell").textContent);
const { board, may } = shell;
// `turns`: page id -> how often somebody wrote there, since it is drawn anew after that.
const state = new State({ ...shell, pages: null, panels: [], wish: wishIn(location.search), turns: {} });
const load = keepReading({
  board: board.id, lastEvent: shell.last_event, kinds: /^(page|panel|revision|renditions|script|alternate|still-tied|reference)/,
  read: () => Promise.all([pagesOfBoard(board.id), panelsOfBoard(board.id)]),
  show: ([pages, panels]) => state.set({ pages, panels }),
});

const list = keyedList(at("pages"));
const deeds = deedsOn(state, at("pages"), load);
const signs = new Map();
showWish(state, at("wish"), at("sum"));
swap(at("script-tools"),
  may.change_board && button("Bring in a script", () => scriptDialog(state, load), { class: "button first", "data-key": "bring-in" }),
  may.add_pages && button("Add a page", () => pageDialog(state, load), { "data-key": "add-page" }),
  h("a", { class: "button", href: `/api/v1/boards/${board.id}/script`, download: "", "data-key": "save" }, "Save as text"),
  button("Print", () => print(), { "data-key": "print" }));
state.on(["pages", "panels", "wish", "turns"], (known) => {
  const { pages, panels, wish } = known;
  if (!pages) return;
  at("pages").setAttribute("aria-busy", "false");
  const shown = pages.filter((page) => page.id === writtenOn() || [page, ...panelsOf(page, panels)].some((part) => fits(part, wish)));
  list(shown.length ? shown.map((page) => ({
    key: String(page.id), sign: signOf(page),
    draw: () => scriptPage(page, known, (may.run_board || drawsPage(page, known)) && deeds, wish),
  })) : [teach(pages.length > 0)]);
});

/** Where somebody is writing, nothing is drawn anew. */
function signOf(page) {
  const { panels, wish, turns } = state.known;
  const picture = page.current_revision;
  const own = panelsOf(page, panels).map((one) => [one.id, one.version, one.order, one.is_gone, one.shape?.polygon, one.still?.id, one.still?.renditions.length]);
  if (page.id !== writtenOn()) signs.set(page.id, JSON.stringify([page.version, page.stage, picture?.id, picture?.renditions?.length, wish, turns[page.id], own]));
  return signs.get(page.id);
}

function firstStep() {
  if (may.change_board) return "Bring in a script as text, or add pages and write what happens on them.";
  return may.add_pages ? "Add pages and write what happens on them." : "Nobody has added a page or a script yet. They appear here by themselves.";
}

function teach(hasPages) {
  const words = hasPages ? ["Nothing reads like that", "No page has such words. Other words find others."]
    : ["No page yet", `${firstStep()} Thumbnails are judged beside these words.`];
  return { key: "none", sign: words[0], draw: () => h("div", { class: "teach" }, h("h2", {}, words[0]), h("p", {}, words[1])) };
}
