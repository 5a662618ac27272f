import { listen } from "./pan_zoom.js";

const A_SWIPE_MOVES_PX = 36;
const A_TAP_MOVES_PX = 8;

/**
 * A page turned by hand: swiped away, or tapped on the side that one wants to see.
 * @param {HTMLElement} surface @param {(towards: "left"|"right") => void} onTurn
 * @param {() => boolean} taps whether a tap turns, too
 * @returns {() => void} takes the gesture off again
 */
export function turnPage(surface, onTurn, taps = () => true) {
  let start = null;
  return listen(surface, {
    pointerdown: (event) => { start = event.isPrimary && !event.button ? [event.clientX, event.clientY] : null; },
    pointercancel: () => { start = null; },
    pointerup: (event) => {
      if (!start) return;
      const [dx, dy] = [event.clientX - start[0], event.clientY - start[1]];
      start = null;
      if (Math.abs(dx) > A_SWIPE_MOVES_PX && Math.abs(dx) > 1.5 * Math.abs(dy)) onTurn(dx < 0 ? "right" : "left");
      else if (Math.hypot(dx, dy) < A_TAP_MOVES_PX && taps()) {
        const box = surface.getBoundingClientRect();
        onTurn(event.clientX < box.left + box.width / 2 ? "left" : "right");
      }
    },
  });
}
