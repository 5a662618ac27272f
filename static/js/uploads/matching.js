import { STAGES } from "../elements/words.js";
import { naturally, pagesIn, stageIn, trunkOf } from "./file_names.js";

/**
 * @typedef {{id: number, numbers: number[], stage: string, current_revision: {stage: string, file_name: string, sha256: string}|null}} KnownPage
 * @typedef {{name: string, numbers: number[]|null, stage: string|null, alternate: string|null,
 *   how: "same"|"file"|"name"|"likeness"|"new"|"none"|"panel"}} Match
 *   `numbers`: of the page it is for, two of a spread; null leaves it out
 */

/** Whether this person may upload to it: an artist to all, a student to their own. */
export const drawsPage = (page, { may, me }) => may.draw && (may.review || may.run_board || page.drawn_by?.id === me.id);

/** @param {KnownPage[]} pages @param {number|null} number */
export const pageWith = (pages, number) => pages.find((page) => page.numbers.includes(number ?? -1)) ?? null;

/** The page that has all of these: a spread by either number or by both. @param {KnownPage[]} pages @param {number[]|null} numbers */
export const pageOf = (pages, numbers) => pages.find((page) => numbers?.length && numbers.every((number) => page.numbers.includes(number))) ?? null;

/** The same for both numbers of a spread, and for no two pages; of a number that is no page yet, its own. @param {number} number */
export const placeOf = (pages, number) => pageWith(pages, number)?.id ?? -number;

/**
 * For each part of a sheet the number given by hand, or the next page that has no picture, or the next new one.
 * @param {any[]} keys of the parts @param {Map<any, number|null>} given null leaves it out @param {(KnownPage & {number: number})[]} pages
 */
export function numbersProposed(keys, given, pages) {
  const byHand = [...given.values()].filter((number) => number !== null);
  const taken = new Set(byHand.map((number) => placeOf(pages, number)));
  const free = pages.filter((page) => !page.current_revision && !taken.has(page.id)).map((page) => page.number);
  let next = Math.max(0, ...pages.flatMap((page) => page.numbers), ...byHand) + 1;
  return keys.map((key) => (given.has(key) ? given.get(key) : (free.shift() ?? next++)));
}

const isAfter = (stage, other) => STAGES.indexOf(stage) > STAGES.indexOf(other);

/** Whether the page moves on before it shows a picture for this stage. */
export const isAhead = (page, stage) => Boolean(page?.current_revision) && isAfter(stage, page.stage);

/** What becomes of a picture of the chosen alternate. @param {KnownPage} page @param {string} stage */
export function pictureWords(page, stage) {
  if (!page.current_revision) return "its first picture";
  if (isAhead(page, stage)) return `kept as a ${stage} until the page moves on from ${page.stage}`;
  if (isAfter(page.current_revision.stage, stage)) return `kept as a ${stage}; the page goes on showing its ${page.current_revision.stage}`;
  return "a new revision";
}

/**
 * Which file is for which page, by what the names say: the name that a page's picture had before, or a page number.
 * @param {{name: string, sha256?: string}[]} files @param {KnownPage[]} pages @returns {Match[]}
 */
export function matchByName(files, pages) {
  const read = pagesIn(files.map(({ name }) => name));
  return files.map(({ name, sha256 }, i) => {
    const { numbers, alternate, isPanel } = read[i];
    const said = { name, stage: stageIn(name), alternate };
    const same = sha256 && pages.find((page) => page.current_revision?.sha256 === sha256);
    if (same) return { ...said, numbers: same.numbers, how: "same" };
    if (isPanel) return { ...said, numbers: null, how: "panel" };
    const before = only(pages, (file) => file.toLowerCase() === name.toLowerCase()) ?? (numbers ? null : only(pages, (file) => trunkOf(file) === trunkOf(name)));
    if (before && trunkOf(name)) return { ...said, numbers: before.numbers, how: "file" };
    return { ...said, numbers, how: !numbers ? "none" : pageOf(pages, numbers) ? "name" : "new" };
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
  let next = Math.max(0, ...pages.flatMap((page) => page.numbers), ...matches.flatMap(({ numbers }) => numbers ?? 0)) + 1;
  const given = new Map(order.map((i) => [i, next++]));
  return matches.map((match, i) => (given.has(i) ? { ...match, numbers: [given.get(i)], how: "new" } : match));
}
