const A_LINE_PX = 80;
const A_VIEW = 0.85;
/** Down the view, of its height: what lies there is what one reads. */
const READS_AT = 0.4;
const still = matchMedia("(prefers-reduced-motion: reduce)");

/**
 * Pages much taller than wide: under one another, as wide as the column, and scrolled.
 * @param {HTMLElement} place
 * @param {(number: number) => void} onPage one page has given way to another
 */
export function readDown(place, onPage) {
  let sign = "";
  let kept = { number: 0, part: 0 };
  const drawn = (number) => [...place.children].find((one) => one.dataset.number === String(number));
  const atHand = () => {
    const down = place.scrollTop + READS_AT * place.clientHeight;
    return [...place.children].findLast((one) => one.offsetTop <= down) ?? place.firstElementChild;
  };
  const keep = () => {
    const one = atHand();
    kept = { number: Number(one.dataset.number), part: (place.scrollTop - one.offsetTop) / Math.max(1, one.offsetHeight) };
  };
  const goTo = ({ number, part }) => {
    const one = drawn(number);
    place.scrollTo({ top: one.offsetTop + part * one.offsetHeight, behavior: "instant" });
    kept = { number, part };
  };
  place.addEventListener("scroll", () => {
    if (!sign) return;
    const before = kept.number;
    keep();
    if (kept.number !== before) onPage(kept.number);
  }, { passive: true });
  // Turned on its side, a telephone shows the same spot.
  new ResizeObserver(() => sign && goTo(kept)).observe(place);

  return {
    get isOn() {
      return Boolean(sign);
    },
    get part() {
      return sign ? kept.part : 0;
    },
    /** @param {Element[]} pages each with its `data-number` @param {number} number the page that is read @param {number} part of its height that lies above the view at first */
    show(pages, number, part = 0) {
      const now = pages.map((one) => one.outerHTML).join("");
      const isOther = now !== sign;
      if (isOther) {
        sign = now;
        place.replaceChildren(...pages);
        place.classList.add("is-down");
        place.tabIndex = 0;
      }
      if (kept.number !== number) goTo({ number, part });
      else if (isOther) goTo(kept);
    },
    leave() {
      sign = "";
      kept = { number: 0, part: 0 };
      place.classList.remove("is-down");
      place.removeAttribute("tabindex");
    },
    /** Whether the key moves within the page; at its ends it does not. @param {KeyboardEvent} event */
    takes({ key, shiftKey, repeat }) {
      if (!sign) return false;
      const view = A_VIEW * place.clientHeight;
      const by = { ArrowDown: A_LINE_PX, ArrowUp: -A_LINE_PX, PageDown: view, PageUp: -view, " ": shiftKey ? -view : view }[key];
      const left = by > 0 ? place.scrollHeight - place.clientHeight - place.scrollTop : place.scrollTop;
      // A key held down stops at the end, and does not run on into the next page.
      if (by && left <= 1) return repeat;
      if (by) {
        place.scrollBy({ top: by, behavior: still.matches || repeat ? "instant" : "smooth" });
        return true;
      }
      const one = atHand();
      const to = { Home: one.offsetTop, End: one.offsetTop + one.offsetHeight - place.clientHeight }[key];
      if (to === undefined || Math.abs(to - place.scrollTop) <= 1) return false;
      place.scrollTo({ top: to, behavior: "instant" });
      return true;
    },
  };
}
