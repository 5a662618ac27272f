import { h, svg } from "./h.js";

/** The line a page has at each stage: a loose one, a thin one, an inked one. */
const LINES = {
  thumbnail: [["M2 6c5-6 7 5 12 1s6-5 11-1 7 1 13-2", 1.1], ["M2 8c6-3 9 3 14 0s9-3 22-1", 1.1]],
  pencil: [["M2 6.500c12-1.500 24-.8 36-.6", 1.5]],
  final: [["M2 6h36", 4.2]],
};

/** @param {keyof typeof LINES} stage */
export const stageMark = (stage) =>
  svg("svg", { class: "stage-mark", viewBox: "0 0 40 12", "aria-hidden": "true" },
    (LINES[stage] ?? []).map(([d, width]) => svg("path", { d, "stroke-width": width })));

export const stageWord = (stage) => h("span", { class: "stage", "data-stage": stage }, stageMark(stage), stage);
