import { h } from "../elements/h.js";
import { keyedList } from "../elements/keyed.js";
import { spreadsOf } from "../geometry/spreads.js";
import { fits, isFiltered } from "./wall_facts.js";
import { wallPage } from "./wall_page.js";

/** The comic as it lies open. Of several hundred pages, only the spreads that changed are drawn anew. */
export function showSpreads(state, place, reload) {
  const list = keyedList(place);
  state.on(["pages", "filter", "order"], (known) => {
    const { pages, filter, board } = known;
    if (!pages) return;
    place.setAttribute("aria-busy", "false");
    const isPart = isFiltered(filter);
    const wanted = new Set(pages.filter((page) => !isPart || fits(page, filter, known)));
    place.classList.toggle("is-unbound", !board.is_bound);
    const rows = spreadsOf(pages, board.reading, board.is_bound).filter((spread) => !isPart || pagesOf(spread).some((page) => wanted.has(page)));
    if (pages.length) return list(rows.map((spread) => row(spread, state, wanted, reload)));
    return list([{ key: "empty", sign: "", draw: () => teach(known) }]);
  });
}

const pagesOf = (spread) => ("gap" in spread ? [] : [spread.both, spread.left, spread.right].filter(Boolean));

function row(spread, state, wanted, reload) {
  const shown = pagesOf(spread);
  const sign = JSON.stringify([shown, spread.missing ?? spread.gap, shown.map((page) => wanted.has(page)), Boolean(state.known.order)]);
  const key = "gap" in spread ? `gap-${spread.gap[0]}` : shown.map((page) => page.id).join("-");
  return { key, sign, draw: () => drawSpread(spread, state, wanted, reload) };
}

function drawSpread(spread, state, wanted, reload) {
  if ("gap" in spread) return gap(spread.gap);
  const { left, right, both, missing, from, to, turns } = spread;
  const label = both || to === 1 ? `Page ${[...new Set([from, to].filter((n) => n > 0))].join(" and ")}` : `Pages ${from} and ${to}`;
  const leaf = (page, side) => wallPage(page, state, reload, { side, isAside: !wanted.has(page) });
  const half = (page, number, side) => (page ? leaf(page, side) : h("div", { class: `leaf blank ${side}` }, number && h("span", { class: "quiet" }, `page ${number} is not here yet`)));
  return h("section", { class: both ? "spread is-one" : "spread", "aria-label": to === 1 ? "Page 1" : label },
    both ? leaf(both, both.is_spread ? "both" : "alone") : [half(left, missing.left, "left"), half(right, missing.right, "right")],
    turns && h("p", { class: "spread-turns fault small" }, `Pages ${from} and ${to} do not face each other: one page before them is missing, or too many.`));
}

function gap([from, to]) {
  return h("p", { class: "gap quiet" }, from === to ? `Page ${from} is not here yet.` : `Pages ${from} to ${to} are not here yet.`);
}

function teach({ may }) {
  return h("div", { class: "teach" },
    h("h2", {}, "The Wall is empty"),
    h("p", {}, "Here the comic hangs as it will be read: spread by spread, each page wearing its stage, from a loose thumbnail to the inked final."),
    h("p", {}, may.run_board || may.draw
      ? "Drop drawings here, as many as you have: each becomes a page. A sheet with several thumbnails can be cut into pages."
      : "Nobody has added a page yet. It will appear here by itself."));
}
