import { choice, field } from "./field.js";
import { h } from "./h.js";

/** Trim sizes in mm: ISO 216, JIS P 0138 and the US comic page. */
const FORMATS = {
  a5: ["A5, 148 × 210 mm", 148, 210, 3, 8],
  a4: ["A4, 210 × 297 mm", 210, 297, 3, 8],
  "jis-b5": ["JIS B5, 182 × 257 mm", 182, 257, 3, 8],
  "us-comic": ["US comic page, 168.3 × 260.4 mm", 168.275, 260.35, 3.175, 9.525],
};

export const formatChoice = () => choice(Object.entries(FORMATS).map(([key, [words]]) => [key, words]), "a5", { name: "format" });

/** @param {keyof typeof FORMATS} format */
export function formatFields(format) {
  const [, trim_width_mm, trim_height_mm, bleed_mm, safe_mm] = FORMATS[format];
  return { trim_width_mm, trim_height_mm, bleed_mm, safe_mm };
}

const MEASURES = [["trim_width_mm", "Trim, width in mm", 1, 5000], ["trim_height_mm", "Trim, height in mm", 1, 5000], ["bleed_mm", "Bleed in mm", 0, 500], ["safe_mm", "Live area, mm from the trim", 0, 500]];

/** Any size, number by number; a usual one fills them in. @param {Record<string, number>} size */
export function sizeFields(size) {
  const inputs = MEASURES.map(([name, words, min, max]) => [words, h("input", { class: "size", type: "number", "data-name": name, min, max, step: "any", required: true, value: size[name] })]);
  const same = ([, [, ...numbers]]) => MEASURES.every(([name], at) => Math.abs(numbers[at] - size[name]) < 0.05);
  const usual = choice([...Object.entries(FORMATS).map(([key, [words]]) => [key, words]), ["", "another size"]], Object.entries(FORMATS).find(same)?.[0] ?? "", {
    onchange: () => {
      const fields = usual.value ? formatFields(usual.value) : {};
      for (const [, input] of inputs) if (input.dataset.name in fields) input.value = fields[input.dataset.name];
    },
  });
  for (const [, input] of inputs) input.addEventListener("input", () => { usual.value = ""; });
  return [field("Printed page", usual, "Ask your printer for bleed and live area."), h("div", { class: "pair" }, inputs.map(([words, input]) => field(words, input)))];
}

/** What is written in them. */
export const sizeIn = (root) => Object.fromEntries([...root.querySelectorAll(".size")].map((input) => [input.dataset.name, Number(input.value)]));
