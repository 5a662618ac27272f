/** Who grows has a size from each page on, until the next one. No page, no server. */

/** @param {{sizes: {from_page: number, height_m: number|null, head_count: number|null}[]}} character @param {number} page @returns the character as it is there */
export function asOnPage(character, page) {
  const { height_m, head_count } = character.sizes.findLast((one) => one.from_page <= page) ?? character.sizes[0];
  return { ...character, height_m, head_count };
}

/** In words: one height, or each with the page it begins on. */
export function heightsTold({ sizes }) {
  const steps = sizes.filter(({ height_m: height }, k) => height && height !== sizes[k - 1]?.height_m);
  const [first, ...later] = steps.map(({ height_m: height, from_page: page }, k) => (k || page > 1 ? `${height} m from page ${page} on` : `${height} m`));
  return first ? [first, ...later].join(", ") : "";
}
