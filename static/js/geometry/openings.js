import { isTall } from "./page_space.js";
import { spreadsOf } from "./spreads.js";

/**
 * What lies open at each turn of a page: a spread; or on a narrow screen one page after the other, as are those that are scrolled down.
 *
 * @typedef {{page: any|null, number: number|null, side: "left"|"right"|"both"}} Leaf  without a page: one that is not here yet, or a blank
 * @typedef {{leaves: Leaf[], from: number, to: number}} Opening
 * @param {import("./spreads.js").Numbered[]} pages @param {"ltr"|"rtl"} reading @returns {Opening[]}
 */
export function openingsOf(pages, reading, isSingle = false) {
  if (isSingle) return oneByOne(pages);
  return spreadsOf(pages, reading).filter((spread) => !("gap" in spread)).flatMap((spread) => {
    const { left, right, both, missing, from, to } = /** @type {import("./spreads.js").Spread} */ (spread);
    const here = [left, right, both].filter(Boolean);
    if (both || here.some(isTallPage)) return oneByOne(here);
    const leaf = (page, number, side) => ({ page, number: page?.number ?? number, side });
    return { leaves: [leaf(left, missing.left, "left"), leaf(right, missing.right, "right")], from, to };
  });
}

export const isTallPage = (page) => isTall(page.current_revision?.renditions?.[0]);

const oneByOne = (pages) => [...pages].sort((a, b) => a.number - b.number)
  .map((page) => ({ leaves: [{ page, number: page.number, side: "both" }], from: page.numbers[0], to: page.numbers.at(-1) }));

/** Which opening shows this page, or the one before it. @param {Opening[]} openings */
export const openingWith = (openings, number) => Math.max(0, openings.findLastIndex(({ from }) => from <= number));

/** One turn on (+1) or back (-1) by a key, a swipe or a tap: 0 where it means none. @param {"ltr"|"rtl"} reading */
export function turnOf(reading, { key = "", shiftKey = false, towards = "" }) {
  const on = reading === "rtl" ? "left" : "right";
  const side = { ArrowLeft: "left", ArrowRight: "right" }[key] ?? towards;
  if (side) return side === on ? 1 : -1;
  if (key === " ") return shiftKey ? -1 : 1;
  return { PageDown: 1, ArrowDown: 1, PageUp: -1, ArrowUp: -1 }[key] ?? 0;
}

/** The pages that are scrolled down in one go around this opening; none where it is seen as a whole. @param {Opening[]} openings */
export function scrolledAround(openings, at) {
  const isScrolled = ({ leaves }) => leaves.length === 1 && isTallPage(leaves[0].page);
  if (!isScrolled(openings[at])) return [];
  const before = openings.slice(0, at).findLastIndex((one) => !isScrolled(one)) + 1;
  const after = openings.findIndex((one, i) => i > at && !isScrolled(one));
  return openings.slice(before, after < 0 ? undefined : after).map(({ leaves }) => leaves[0].page);
}
