/** What a file's name says: which page it is, and at which stage. Nothing is guessed where it can be read two ways. */

/** "page 9" before "page 10". */
export const naturally = new Intl.Collator("en", { numeric: true, sensitivity: "base" }).compare;

const STAGE_WORDS = {
  thumbnail: ["thumb", "thumbs", "thumbnail", "thumbnails", "rough", "roughs"],
  pencil: ["pencil", "pencils", "pencilled", "penciled"],
  final: ["final", "finals", "ink", "inks", "inked"],
};
const PAGE = /(?<![a-z])(?:pages?|pg|pp?)[ ._-]*0*(\d{1,4})(?:[ ]*[-–+&_][ ]*p?0*(\d{1,4}))?(?!\d)/;
const NUMBER = /(?<!\d)0*(\d{1,4})(?:[-–+&]0*(\d{1,4}))?(?!\d)/g;
// Numbers that name no page: versions, copies, sizes, dates, chapters, and what cameras count.
const NO_PAGE = [
  /(?<![a-z])(?:v|ver|vers|version|rev|revision|r|take|copy|draft|ch|chap|chapter|issue|book|vol|volume|scene|panel)[ ._-]*\d+/g,
  /\(\d+\)/g, /\d+[ ]*[x×][ ]*\d+/g, /\d+[ ]*(?:dpi|ppi|px|mm|cm)/g, /(?:19|20)\d\d[-_.]?(?:0\d|1[0-2])[-_.]?[0-3]\d/g,
  /(?<![a-z])(?:img|dsc|dscn|pxl|photo|scan)[ ._-]*\d+/g, /\d{5,}/g,
];

const stemOf = (name) => name.toLowerCase().replace(/\.[a-z0-9]{2,4}$/, "");

/** @param {string} name @returns {string|null} null where it names none, or more than one */
export function stageIn(name) {
  const words = new Set(stemOf(name).split(/[^a-z]+/));
  const named = Object.entries(STAGE_WORDS).filter(([, ways]) => ways.some((way) => words.has(way)));
  return named.length === 1 ? named[0][0] : null;
}

/** The name without stage, version and ending: what stays the same from one export to the next. */
export const trunkOf = (name) => NO_PAGE.slice(0, 2).reduce((rest, pattern) => rest.replace(pattern, " "), stemOf(name))
  .split(/[^a-z0-9]+/).filter((word) => word && !Object.values(STAGE_WORDS).flat().includes(word)).join(" ");

/**
 * The page number in each name. Where a name holds several numbers, names of the same make are laid side by side: the number that
 * changes is the page's.
 * @param {string[]} names @returns {(number|null)[]} of a spread its first
 */
export function pageNumbersIn(names) {
  const read = names.map(readOne);
  const makes = new Map();
  read.forEach(({ make, numbers }, i) => {
    if (numbers.length > 1) makes.set(make, [...(makes.get(make) ?? []), i]);
  });
  for (const rows of makes.values()) {
    const columns = read[rows[0]].numbers.map((_, column) => rows.map((i) => read[i].numbers[column]));
    const changing = columns.filter((column) => rows.length > 1 && new Set(column).size === rows.length);
    if (changing.length === 1) rows.forEach((i, at) => { read[i].page = changing[0][at]; });
  }
  return read.map(({ page }) => page);
}

function readOne(name) {
  const stem = stemOf(name);
  const said = PAGE.exec(stem);
  if (said) return { page: Number(said[1]) || null, numbers: [], make: "" };
  const rest = NO_PAGE.reduce((text, pattern) => text.replace(pattern, " "), stem);
  const numbers = [...rest.matchAll(NUMBER)].flatMap(([, from, to]) => (to === undefined || Number(to) === Number(from) + 1 ? [Number(from)] : [Number(from), Number(to)]));
  return { page: numbers.length === 1 ? numbers[0] || null : null, numbers, make: rest.replace(NUMBER, "#") };
}
