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

/** A form that hands its fields over. @param {(values: Record<string, any>, form: HTMLFormElement) => any} onsubmit */
export function form(props, onsubmit, ...children) {
  const element = h("form", { class: "dialog-body", ...props }, ...children);
  const atWork = new Set();
  element.addEventListener("submit", async (event) => {
    event.preventDefault();
    const fields = [...new FormData(element)];
    const sent = JSON.stringify(fields.map(([name, value]) => [name, /** @type {any} */ (value).name ?? value]));
    // Pressed twice on a slow line, it is done once.
    if (atWork.has(sent)) return event.stopPropagation();
    atWork.add(sent);
    try {
      await onsubmit(Object.fromEntries(fields), element);
    } finally {
      atWork.delete(sent);
    }
  });
  return element;
}
