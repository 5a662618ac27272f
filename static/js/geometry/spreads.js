/**
 * The comic as it lies open: page 1 faces nothing, then 2 and 3, 4 and 5. Reading right to left mirrors it.
 * Pages that are not bound follow one another, each for itself.
 *
 * @typedef {{number: number, numbers: number[], is_spread: boolean}} Numbered
 * @typedef {{left: Numbered|null, right: Numbered|null, both: Numbered|null, missing: {left: number|null, right: number|null},
 *   from: number, to: number, turns: boolean}} Spread `turns`: one picture whose two pages are the two sides of a leaf
 */

/** @param {Numbered[]} pages @param {"ltr"|"rtl"} reading @param {boolean} [isBound] @returns {(Spread | {gap: [number, number]})[]} */
export function spreadsOf(pages, reading, isBound = true) {
  const inOrder = [...pages].sort((a, b) => a.number - b.number);
  const held = new Set(inOrder.flatMap((page) => page.numbers));
  const result = [];
  let expected = 1;
  for (const group of facing(inOrder, isBound)) {
    const first = group.from;
    if (first > expected) result.push({ gap: [expected, first - 1] });
    result.push(asSpread(group, reading, held, isBound));
    expected = group.to + 1;
  }
  return result;
}

/** Pages that face each other; a drawn spread stands alone, whatever its numbers. */
function facing(pages, isBound) {
  const groups = [];
  for (const page of pages) {
    const slot = page.is_spread || !isBound ? `alone ${page.number}` : Math.floor(page.number / 2);
    if (groups.at(-1)?.slot === slot) groups.at(-1).pages.push(page);
    else groups.push({ slot, pages: [page] });
  }
  return groups.map(({ slot, pages: together }) => withRange(slot, together, isBound));
}

function withRange(slot, pages, isBound) {
  const [{ number, is_spread: isSpread }] = pages;
  if (isSpread || !isBound) return { pages, from: number, to: number + (isSpread ? 1 : 0) };
  return { pages, from: Math.max(1, 2 * slot), to: 2 * slot + 1 };
}

function asSpread({ pages, from, to }, reading, held, isBound) {
  if (pages[0].is_spread || !isBound) return { left: null, right: null, both: pages[0], missing: { left: null, right: null }, from, to, turns: isBound && from % 2 === 1 };
  const even = pages.find((page) => page.number % 2 === 0) ?? null;
  const odd = pages.find((page) => page.number % 2 === 1) ?? null;
  const absent = { even: even || from === 1 || held.has(from) ? null : from, odd: odd || held.has(to) ? null : to };
  const [left, right] = reading === "rtl" ? ["odd", "even"] : ["even", "odd"];
  const half = { even, odd };
  return { left: half[left], right: half[right], both: null, missing: { left: absent[left], right: absent[right] }, from, to, turns: false };
}
