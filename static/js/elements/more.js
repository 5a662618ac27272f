import { button } from "./h.js";

/** On a narrow screen: shows the rest of what can be done here, which a wide one shows anyhow. @param {Element} place */
export function moreButton(place, words, props = {}) {
  const toggle = ({ currentTarget }) => currentTarget.setAttribute("aria-expanded", String(place.classList.toggle("is-open")));
  return button(words, toggle, { class: "button more-opener", "aria-expanded": String(place.classList.contains("is-open")), "data-key": "more", ...props });
}

/** Back to the button of a tool that was put away; to what it lies behind, where it is hidden. */
export function backTo(key) {
  const tool = /** @type {HTMLElement|null} */ (document.querySelector(`[data-key="${key}"]`));
  const seen = tool?.offsetParent ? tool : /** @type {HTMLElement|null} */ (document.querySelector('[data-key="more"]'));
  seen?.focus();
}
