import { h } from "./h.js";

let made = 0;

/** A labelled control. @param {string} label @param {any} control @param {string} [hint] */
export function field(label, control, hint) {
  const id = control.id || `field-${++made}`;
  control.id = id;
  if (hint) control.setAttribute("aria-describedby", `${id}-hint`);
  return h("div", { class: "field" }, h("label", { for: id }, label), control,
    hint && h("p", { class: "hint", id: `${id}-hint` }, hint));
}

/** @param {[string, string][]} options value and words */
export function choice(options, chosen, props = {}) {
  return h("select", props, options.map(([value, words]) => h("option", { value, selected: String(value) === String(chosen) }, words)));
}

/** Several boxes to tick under one legend. @param {[string, string][]} options */
export function boxes(legend, name, options, chosen = []) {
  return h("fieldset", {}, h("legend", { class: "legend" }, legend),
    h("div", { class: "choices" }, options.map(([value, words]) =>
      h("label", {}, h("input", { type: "checkbox", name, value, checked: chosen.includes(value) }), words))));
}

/** What is ticked in a form. */
export const ticked = (root, name) => [...root.querySelectorAll(`input[name="${name}"]:checked`)].map((input) => input.value);

/** A form that hands its fields over. @param {(values: Record<string, any>, form: HTMLFormElement) => any} onsubmit */
export function form(props, onsubmit, ...children) {
  const element = h("form", { class: "dialog-body", ...props }, ...children);
  element.addEventListener("submit", (event) => {
    event.preventDefault();
    onsubmit(Object.fromEntries(new FormData(element)), element);
  });
  return element;
}
