/**
 * Keeps a list of elements as its rows say, and touches only those that changed: a row with the same key and the same sign keeps its
 * element, with whatever is open, loaded or focused in it.
 * @param {Element} container
 */
export function keyedList(container) {
  /** @type {Map<string, {sign: string, element: Element}>} */
  let shown = new Map();
  /** @param {{key: string, sign: string, draw: () => Element}[]} rows */
  return (rows) => {
    const focused = container.contains(document.activeElement) ? document.activeElement?.getAttribute("data-key") : null;
    const next = new Map(rows.map(({ key, sign, draw }) => {
      const kept = shown.get(key);
      return [key, kept?.sign === sign ? kept : { sign, element: draw() }];
    }));
    const keep = new Set([...next.values()].map(({ element }) => element));
    for (const old of [...container.children]) if (!keep.has(old)) old.remove();
    let at = container.firstElementChild;
    for (const element of keep) {
      if (element === at) at = at.nextElementSibling;
      else container.insertBefore(element, at);
    }
    shown = next;
    if (focused && !container.contains(document.activeElement))
      /** @type {HTMLElement|null} */ (container.querySelector(`[data-key="${CSS.escape(focused)}"]`))?.focus({ preventScroll: true });
  };
}
