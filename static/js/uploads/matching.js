import { naturally, pageNumbersIn, stageIn, trunkOf } from "./file_names.js";

/**
 * @typedef {{id: number, numbers: number[], stage: string, current_revision: {file_name: string, sha256: string}|null}} KnownPage
 * @typedef {{name: string, number: number|null, stage: string|null, how: "same"|"file"|"name"|"likeness"|"new"|"none"}} Match
 *   `number`: of the page it is for; null leaves it out
 */

/** Whether this person may upload to it: an artist to all, a student to their own. */
export const drawsPage = (page, { may, me }) => may.draw && (may.review || may.run_board || page.drawn_by?.id === me.id);

/** @param {KnownPage[]} pages @param {number|null} number */
export const pageWith = (pages, number) => pages.find((page) => page.numbers.includes(number ?? -1)) ?? null;

/**
 * Which file is for which page, by what the names say: the name that a page's picture had before, or a page number.
 * @param {{name: string, sha256?: string}[]} files @param {KnownPage[]} pages @returns {Match[]}
 */
export function matchByName(files, pages) {
  const numbers = pageNumbersIn(files.map(({ name }) => name));
  return files.map(({ name, sha256 }, i) => {
    const stage = stageIn(name);
    const same = sha256 && pages.find((page) => page.current_revision?.sha256 === sha256);
    if (same) return { name, stage, number: same.numbers[0], how: "same" };
    const before = only(pages, (file) => file.toLowerCase() === name.toLowerCase()) ?? (numbers[i] === null ? only(pages, (file) => trunkOf(file) === trunkOf(name)) : null);
    if (before && trunkOf(name)) return { name, stage, number: before.numbers[0], how: "file" };
    return { name, stage, number: numbers[i], how: numbers[i] === null ? "none" : pageWith(pages, numbers[i]) ? "name" : "new" };
  });
}

/** The one page whose picture came from such a file; a sheet cut into pages names many. */
function only(pages, fits) {
  const found = pages.filter((page) => page.current_revision?.file_name && fits(page.current_revision.file_name));
  return found.length === 1 ? found[0] : null;
}

/** Files that nothing matched become new pages after the last one, in the order of their names. @param {Match[]} matches */
export function withNewPages(matches, pages) {
  const order = matches.map((_, i) => i).filter((i) => matches[i].how === "none").sort((a, b) => naturally(matches[a].name, matches[b].name));
  let next = Math.max(0, ...pages.flatMap((page) => page.numbers), ...matches.map(({ number }) => number ?? 0)) + 1;
  const given = new Map(order.map((i) => [i, next++]));
  return matches.map((match, i) => (given.has(i) ? { ...match, number: given.get(i), how: "new" } : match));
}
