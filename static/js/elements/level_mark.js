import { h, svg } from "./h.js";

/** How far a work has come by one criterion: strokes as in a tally, and the word. @param {number|undefined} level @param {string[]} words */
export function levelMark(level, words) {
  if (level === undefined || level === null) return h("span", { class: "quiet" }, "not marked");
  return h("span", { class: "level" },
    svg("svg", { viewBox: "0 0 26 12", "aria-hidden": "true" }, [0, 1, 2].map((place) =>
      svg("path", { d: `M${5 + 8 * place} 1v10`, class: place < level ? "" : "empty" }))),
    words[level]);
}
