import { choice, field } from "./field.js";
import { h } from "./h.js";
import { FORMATS, formatFields } from "./trim_sizes.js";

// Short enough for one line beside another on a telephone, so that their boxes stand at one height.
const MEASURES = [
  ["trim_width_mm", "Trim width in mm", 1, 5000], ["trim_height_mm", "Trim height in mm", 1, 5000],
  ["bleed_mm", "Bleed in mm", 0, 500, "Beyond the trim."], ["safe_mm", "Live area in mm", 0, 500, "From the trim inwards."],
];

/** Any size, number by number; a usual one fills them in. @param {Record<string, number>} size */
export function sizeFields(size) {
  const inputs = MEASURES.map(([name, words, min, max, hint]) => [words, h("input", { class: "size", type: "number", "data-name": name, min, max, step: "any", required: true, value: size[name] }), hint]);
  const same = ([, [, ...numbers]]) => MEASURES.every(([name], at) => Math.abs(numbers[at] - size[name]) < 0.05);
  const usual = choice([...Object.entries(FORMATS).map(([key, [words]]) => [key, words]), ["", "another size"]], Object.entries(FORMATS).find(same)?.[0] ?? "", {
    onchange: () => {
      const fields = usual.value ? formatFields(usual.value) : {};
      for (const [, input] of inputs) if (input.dataset.name in fields) input.value = fields[input.dataset.name];
    },
  });
  for (const [, input] of inputs) input.addEventListener("input", () => { usual.value = ""; });
  return [field("Printed page", usual, "Ask your printer for bleed and live area."), h("div", { class: "pair" }, inputs.map(([words, input, hint]) => field(words, input, hint)))];
}

/** What is written in them. */
export const sizeIn = (root) => Object.fromEntries([...root.querySelectorAll(".size")].map((input) => [input.dataset.name, Number(input.value)]));
