import { linePaths } from "../geometry/drawn_lines.js";
import { svg } from "./h.js";

/** What a note draws over the page. @param {(point: [number, number]) => [number, number]} at page coordinates to the screen */
export const drawLines = (lines, at, kind) => lines.map((line) => {
  const paths = linePaths(line, at);
  const strokes = (name, more) => paths.map(({ d, width }) => svg("path", { class: name, d, "stroke-width": width + more }));
  return svg("g", { class: `note-line-drawn ${kind}` }, strokes("under", 2.5), strokes("over", 0));
});
