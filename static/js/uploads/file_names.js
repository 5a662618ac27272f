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

/**
 * What each name says beside its stage; two numbers are a spread's, null are those that can be read several ways.
 * @param {string[]} names @returns {{numbers: number[]|null, alternate: string|null, isPanel: boolean}[]}
 */
export const pagesIn = (names) => readNames(names).map(({ numbers, isSure, alternate, isPanel }) => ({ numbers: isSure ? numbers : null, alternate, isPanel }));

/** As typed: 6, or 6-7 for a spread. @param {string} text @returns {number[]|null} */
export function numbersTyped(text) {
  const [, first, second] = /^\s*(\d{1,4})(?:\s*[-–]\s*(\d{1,4}))?\s*$/.exec(text) ?? [];
  const numbers = [first, second].filter(Boolean).map(Number);
  const follow = numbers.length === 1 || numbers[1] === numbers[0] + 1;
  return numbers[0] > 0 && follow ? numbers : null;
}
