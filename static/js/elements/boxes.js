import { h } from "./h.js";

/** Several boxes to tick under one legend. @param {[string, string][]} options */
export function boxes(legend, name, options, chosen = []) {
  return h("fieldset", {}, h("legend", { class: "legend" }, legend),
    h("div", { class: "choices" }, options.map(([value, words]) =>
      h("label", {}, h("input", { type: "checkbox", name, value, checked: chosen.includes(value) }), words))));
}

/** What is ticked in a form. */
export const ticked = (root, name) => [...root.querySelectorAll(`input[name="${name}"]:checked`)].map((input) => input.value);
