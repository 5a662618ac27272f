import { followBoard } from "../api/live.js";
import { pagesOfBoard } from "../api/pages.js";
import { h, swap } from "../elements/h.js";
import { renditionFor } from "../elements/picture_part.js";
import { readingCame, readingFailed } from "../elements/readings.js";
import { whisper } from "../elements/slips.js";
import { isTallPage, openingWith, openingsOf, scrolledAround, turnOf } from "../geometry/openings.js";
import { turnPage } from "../gestures/turn_page.js";
import { readDown } from "./read_down.js";
import { State } from "./state.js";

const { board, last_event: lastEvent } = JSON.parse(document.getElementById("shell").textContent);
const [open, foot] = ["open", "foot"].map((id) => document.getElementById(id));
const WAIT_MS = 250;
/** As `read.css` has it. */
const COLUMN_REM = 45;
const down = readDown(open, scrolledTo);
const narrow = matchMedia("(max-aspect-ratio: 1/1)");
const state = new State({ pages: null, number: Number(new URLSearchParams(location.search).get("page")) || 1, isSingle: narrow.matches });

/** What lies open, as it looks: what others do on other pages draws nothing anew under the eye. */
const lying = { looks: "" };

/** How far down its page one was when the screen was left. */
const left = { part: history.state?.readTo ?? 0 };
addEventListener("pagehide", () => history.replaceState({ ...history.state, readTo: down.part }, ""));

const openings = () => openingsOf(state.known.pages ?? [], board.reading, state.known.isSingle || !board.is_bound);
const now = () => openingWith(openings(), state.known.number);

function turn(by) {
  const to = openings()[now() + by];
  if (by && to) return show(to, by > 0 ? "on" : "back");
  return by && whisper(by > 0 ? "This is the end." : "This is the beginning.");
}

function show({ from, to, leaves }, way) {
  open.dataset.way = (way === "on") === (board.reading !== "rtl") ? "from-right" : "from-left";
  state.set({ number: leaves.find(({ page }) => page)?.page.number ?? from });
  whisper(from === to ? `Page ${from}` : `Pages ${Math.max(1, from)} and ${to}`);
}

function scrolledTo(number) {
  state.set({ number });
  whisper(`Page ${number}`);
}

state.on(["pages", "number", "isSingle"], ({ pages, number }) => {
  if (!pages) return;
  open.setAttribute("aria-busy", "false");
  if (!pages.length) return open.replaceChildren(h("p", { class: "read-blank" }, "No page is on the Wall yet. The first one that is added there opens here."));
  const all = openings();
  const scrolled = scrolledAround(all, now());
  if (scrolled.length) {
    lying.looks = "";
    down.show(scrolled.map(drawScrolled), all[now()].leaves[0].page.number, left.part);
  } else {
    down.leave();
    const leaves = all[now()].leaves.map(drawLeaf);
    const looks = leaves.map((leaf) => leaf.outerHTML).join("");
    if (looks !== lying.looks) open.replaceChildren(...leaves);
    lying.looks = looks;
  }
  left.part = 0;
  for (const beside of [all[now() + 1], all[now() - 1]]) for (const { page } of beside?.leaves ?? []) if (page && !scrolled.includes(page)) new Image().src = pictureFor(page)?.url ?? "";
  history.replaceState(history.state, "", `?page=${number}`);
  return swap(foot, ...footOf(all, now()));
});

/** Its shape stands before its picture comes, so that nothing moves under the eye. */
function drawScrolled(page) {
  const { url, width_px: width, height_px: height } = pictureFor(page);
  return h("img", { class: "read-page", src: url, width, height, loading: "lazy", decoding: "async", alt: `Page ${page.numbers.join(" and ")}`, draggable: "false", "data-number": page.number });
}

function drawLeaf({ page, number, side }) {
  const picture = page && pictureFor(page);
  if (picture) {
    return h("img", { class: `read-page ${side}`, src: picture.url, width: picture.width_px, height: picture.height_px, alt: `Page ${page.numbers.join(" and ")}`, draggable: "false" });
  }
  const words = page ? `Page ${page.numbers.join("-")}: nothing drawn yet.` : number && `Page ${number} is not here yet.`;
  return h("div", { class: `read-page read-blank ${side}` }, words && h("p", {}, words), page?.happens && h("p", { class: "quiet" }, page.happens));
}

/** As many pixels as the page fills, and no more. */
function pictureFor(page) {
  const widthPx = (innerWidth * devicePixelRatio) / (state.known.isSingle || page.is_spread ? 1 : 2);
  const { renditions = [] } = page.current_revision ?? {};
  if (isTallPage(page)) return renditionFor(renditions, Math.min(innerWidth, COLUMN_REM * parseFloat(getComputedStyle(document.documentElement).fontSize)) * devicePixelRatio);
  const [first] = renditions;
  const byHeight = first ? innerHeight * devicePixelRatio * (first.width_px / first.height_px) : widthPx;
  return renditionFor(renditions, Math.min(widthPx, byHeight));
}

function footOf(all, at) {
  const { from, to, leaves } = all[at];
  const last = Math.max(...state.known.pages.flatMap((page) => page.numbers));
  const button = (words, by, key) => h("button", { type: "button", class: "word", disabled: !all[at + by], onclick: () => turn(by), "data-key": key }, words);
  const slider = h("input", { type: "range", min: "0", max: String(all.length - 1), value: String(at), "aria-label": "Turn to", "aria-valuetext": `Page ${from}`,
    "data-key": "slider", oninput: (event) => show(all[Number(event.target.value)], Number(event.target.value) > at ? "on" : "back") });
  return [
    h("a", { class: "word", href: `/boards/${board.id}`, "data-key": "wall" }, "Back to the Wall"),
    h("div", { class: "read-turn", dir: board.reading }, button("Page before", -1, "before"), slider, button("Next page", 1, "next")),
    h("p", { class: "read-at" },
      leaves.filter(({ page }) => page).map(({ page }, k) => h("a", { class: "word", href: `/pages/${page.id}`, "data-key": `page-${k}` }, `Page ${page.numbers.join("-")}`)),
      h("span", { class: "figure" }, `${from === to || from < 1 ? to : `${from}–${to}`} / ${last}`)),
  ];
}

document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || event.target instanceof HTMLInputElement) return undefined;
  if (event.key === "Escape") return location.assign(`/boards/${board.id}`);
  if (event.key === " " && event.target instanceof HTMLElement && event.target.matches("a, button")) return undefined;
  if (down.takes(event)) return event.preventDefault();
  const all = openings();
  const ends = { Home: 0, End: all.length - 1 }[event.key];
  const by = turnOf(board.reading, event);
  if (!all.length || (ends === undefined && !by)) return undefined;
  event.preventDefault();
  return ends === undefined ? turn(by) : show(all[ends], ends ? "on" : "back");
});
turnPage(open, (towards) => turn(turnOf(board.reading, { towards })), () => !down.isOn);
narrow.addEventListener("change", () => state.set({ isSingle: narrow.matches }));

const readings = { begun: 0, waits: null };

async function load() {
  const mine = ++readings.begun;
  const pages = await pagesOfBoard(board.id).catch((problem) => readingFailed(problem, "comic", load));
  // Answers overtake each other: an older one must not undo a newer.
  if (!pages || mine !== readings.begun) return;
  readingCame();
  // A new picture of the page that lies open is no page that is turned.
  delete open.dataset.way;
  state.set({ pages });
}
// The comic as it is now: a page that is drawn meanwhile is there when one turns to it. What comes in a burst is read once.
followBoard(board.id, lastEvent, ({ kind }) => {
  if (!/^(revision|renditions|page)/.test(kind)) return;
  clearTimeout(readings.waits);
  readings.waits = setTimeout(load, WAIT_MS);
});
load();
