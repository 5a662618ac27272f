import { choice } from "./field.js";

/** Trim sizes in mm: ISO 216, JIS P 0138 and the US comic page. */
export const FORMATS = {
  a5: ["A5, 148 × 210 mm", 148, 210, 3, 8],
  a4: ["A4, 210 × 297 mm", 210, 297, 3, 8],
  "jis-b5": ["JIS B5, 182 × 257 mm", 182, 257, 3, 8],
  "us-comic": ["US comic page, 168.3 × 260.4 mm", 168.275, 260.35, 3.175, 9.525],
};

export const formatChoice = () => choice(Object.entries(FORMATS).map(([key, [words]]) => [key, words]), "a5", { name: "format" });

/** Whether pages face each other. @param {boolean} isBound */
export const boundChoice = (isBound) =>
  choice([["bound", "are bound: they face each other"], ["unbound", "follow one another, each for itself"]], isBound ? "bound" : "unbound", { name: "pages" });

/** @param {keyof typeof FORMATS} format */
export function formatFields(format) {
  const [, trim_width_mm, trim_height_mm, bleed_mm, safe_mm] = FORMATS[format];
  return { trim_width_mm, trim_height_mm, bleed_mm, safe_mm };
}
