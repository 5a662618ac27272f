import { STAGE_WORDS, readNames } from "./page_names.js";

/** What a file's name says: which page it is, and at which stage. Nothing is guessed where it can be read two ways. */

/** "page 9" before "page 10". */
export const naturally = new Intl.Collator("en", { numeric: true, sensitivity: "base" }).compare;

// What changes from one export to the next.
const VERSION = /(?<![a-z])(?:v|ver|vers|version|rev|revision|r|take|copy|draft|ch|chap|chapter|issue|book|vol|volume|scene|panel)[ ._-]*\d+/g;
const COPY = /\(\d+\)/g;
const WORDS = new Set(Object.values(STAGE_WORDS).flatMap((words) => [...words]));

const stemOf = (name) => name.toLowerCase().replace(/\.[a-z0-9]{2,4}$/, "");

/** @param {string} name @returns {string|null} null where it names none, or more than one */
export function stageIn(name) {
  const [{ stages }] = readNames([name]);
  return stages.length === 1 ? stages[0] : null;
}

/** The name without stage, version and ending: what stays the same from one export to the next. */
export const trunkOf = (name) => [VERSION, COPY].reduce((rest, pattern) => rest.replace(pattern, " "), stemOf(name))
  .split(/[^a-z0-9]+/).filter((word) => word && !WORDS.has(word)).join(" ");

/** The page number in each name, where it can be read one way. @param {string[]} names @returns {(number|null)[]} of a spread its first */
export const pageNumbersIn = (names) => readNames(names).map(({ numbers, isSure }) => (isSure ? numbers[0] : null));
