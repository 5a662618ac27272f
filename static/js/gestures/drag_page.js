import { listen } from "./pan_zoom.js";

const A_TAP_MOVES_PX = 6;
const EDGE_PX = 70;
const SCROLL_PX = 14;

/**
 * A page taken by its grip and let go before or after another one, by mouse, pen or finger; near the edge of the window it scrolls.
 * @param {HTMLElement} grip inside an element with `data-page`
 * @param {{reading: "ltr"|"rtl", onPlace: (target: number, isAfter: boolean) => void}} drag
 * @returns {() => void} takes the gesture off again
 */
export function dragPage(grip, { reading, onPlace }) {
  let held = null;
  const under = (event) => {
    const leaf = /** @type {HTMLElement|null} */ (document.elementFromPoint(event.clientX, event.clientY)?.closest("[data-page]"));
    if (!leaf || leaf.contains(grip)) return null;
    const box = leaf.getBoundingClientRect();
    const isRight = event.clientX > box.left + box.width / 2;
    return { leaf, isAfter: isRight === (reading !== "rtl"), side: isRight ? "right" : "left" };
  };
  const mark = (place) => {
    held?.place?.leaf.removeAttribute("data-drop");
    if (held) held.place = place;
    place?.leaf.setAttribute("data-drop", place.side);
  };
  const end = () => {
    mark(null);
    grip.closest("[data-page]")?.removeAttribute("data-held");
    held = null;
  };
  const scroll = (event) => {
    const by = event.clientY < EDGE_PX ? -SCROLL_PX : event.clientY > innerHeight - EDGE_PX ? SCROLL_PX : 0;
    if (by) scrollBy(0, by);
  };
  return listen(grip, {
    pointerdown: (event) => {
      if (!event.isPrimary || event.button) return;
      held = { x: event.clientX, y: event.clientY, isMoving: false, place: null };
      grip.setPointerCapture(event.pointerId);
    },
    pointermove: (event) => {
      if (!held) return;
      held.isMoving ||= Math.hypot(event.clientX - held.x, event.clientY - held.y) > A_TAP_MOVES_PX;
      if (!held.isMoving) return;
      grip.closest("[data-page]")?.setAttribute("data-held", "");
      scroll(event);
      mark(under(event));
    },
    pointerup: () => {
      const place = held?.isMoving ? held.place : null;
      end();
      if (place) onPlace(Number(place.leaf.dataset.page), place.isAfter);
    },
    pointercancel: end,
    keydown: (event) => { if (event.key === "Escape" && held) end(); },
  });
}
