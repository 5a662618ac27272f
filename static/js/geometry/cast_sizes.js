/** Who grows has a size from each page on, until the next one. No page, no server. */

/** @param {{sizes: {from_page: number, height_m: number|null, head_count: number|null}[]}} character @param {number} page @returns the character as it is there */
export function asOnPage(character, page) {
  const { height_m, head_count } = character.sizes.findLast((one) => one.from_page <= page) ?? character.sizes[0];
  return { ...character, height_m, head_count };
}
