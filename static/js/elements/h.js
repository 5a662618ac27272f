/**
 * Builds elements. Attributes only, never a style attribute: the content policy forbids it.
 * @param {string} tag
 * @param {Record<string, any>} [props] `on…` is a listener; false, null and undefined leave an attribute out
 * @param {...any} children
 * @returns {any}
 */
export function h(tag, props = {}, ...children) {
  return fill(document.createElement(tag), props, children);
}

/** The same for SVG. */
export function svg(tag, props = {}, ...children) {
  return fill(document.createElementNS("http://www.w3.org/2000/svg", tag), props, children);
}

const PROPERTIES = new Set(["value", "checked", "disabled", "selected", "files"]);

function fill(element, props, children) {
  for (const [name, value] of Object.entries(props)) {
    if (value === false || value === null || value === undefined) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (PROPERTIES.has(name)) element[name] = value;
    else element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children.flat(3).filter((child) => child !== null && child !== undefined && child !== false));
  return element;
}

/**
 * Puts new content in place, and moves nothing that stands there already. The focus goes back to the element of the same `data-key`, with
 * what was typed there.
 * @param {Element} container
 * @param {...any} children
 */
export function swap(container, ...children) {
  const held = container.contains(document.activeElement) ? /** @type {any} */ (document.activeElement) : null;
  const key = held?.dataset?.key;
  const typed = held?.matches?.("textarea, input:not([type=checkbox], [type=radio])") ? [held.value, held.selectionStart, held.selectionEnd] : null;
  const fresh = children.flat(3).filter(Boolean);
  const keep = new Set(fresh);
  for (const old of [...container.childNodes]) if (!keep.has(old)) old.remove();
  let at = container.firstChild;
  for (const one of fresh) {
    // What has the focus stays, so that nobody who types in it is disturbed: the others go around it.
    while (at !== one && one.parentNode === container && one.contains(held)) {
      const next = at.nextSibling;
      container.append(at);
      at = next;
    }
    if (one === at) at = at.nextSibling;
    else if (at) at.before(one);
    else container.append(one);
  }
  if (!key || held.isConnected) return;
  const heir = container.querySelector(`[data-key="${CSS.escape(key)}"]`);
  if (heir && typed) {
    heir.value = typed[0];
    if (typed[1] !== null) heir.setSelectionRange(typed[1], typed[2]); // a number has none
  }
  heir?.focus({ preventScroll: true });
}

/** A button whose words say what it does. */
export const button = (words, onclick, props = {}) => h("button", { type: "button", class: "button", onclick, ...props }, words);

/** The same inside a line of text. */
export const word = (words, onclick, props = {}) => h("button", { type: "button", class: "word", onclick, ...props }, words);
