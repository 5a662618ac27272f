import { h, svg } from "./h.js";

/** Forms of the four tones: a struck corner, a rising stroke, an open loop, an underline. They differ without colour. */
const FORMS = {
  must: [["path", { d: "M2 2h12L2 14z", class: "solid" }]],
  try: [["path", { d: "M2 13C5 12 6 5 8 5s2 6 6 6" }], ["path", { d: "M11 8l3 3-3 3" }]],
  ask: [["path", { d: "M4 6c0-5 8-5 8 0 0 3-4 3-4 6" }], ["path", { d: "M8 14.500v.1" }]],
  keep: [["path", { d: "M2 8l4 4 8-9" }], ["path", { d: "M2 15h12" }]],
  measured: [["path", { d: "M2 3v10M14 3v10M2 8h12" }]],
};

export const TONES = [
  ["must", "must be changed"],
  ["try", "try something else"],
  ["ask", "a question"],
  ["keep", "keep it, it works"],
];

/** @param {keyof typeof FORMS} tone */
export const toneMark = (tone) =>
  svg("svg", { class: "tone-mark", viewBox: "0 0 16 16", "aria-hidden": "true" }, (FORMS[tone] ?? []).map(([tag, props]) => svg(tag, props)));

/** The mark with its word. */
export const toneWord = (tone, words = tone) => h("span", { class: "tone", "data-tone": tone }, toneMark(tone), words);

/** How many open notes of each tone, leaving out tones with none. @param {Record<string, number>} open */
export function toneTally(open) {
  const people = ["must", "try", "ask", "keep"].filter((tone) => open[tone]).map((tone) => toneWord(tone, `${open[tone]} ${tone}`));
  const measured = open.measured
    ? [h("span", { class: "caliper" }, h("span", { class: "figure" }, String(open.measured), h("span", { class: "out-of-sight" }, " measured")))]
    : [];
  return [...people, ...measured];
}
