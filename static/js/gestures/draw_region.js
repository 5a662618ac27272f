import { boxBetween } from "../geometry/page_space.js";
import { listen } from "./pan_zoom.js";

const A_TAP_MOVES_PX = 6;

/**
 * A region by dragging from corner to corner, and a tap for a spot. Where dragging moves the picture (touch), two taps give the corners.
 *
 * @param {HTMLElement} surface
 * @param {{toPage: (event: PointerEvent) => [number, number], draws: (event: PointerEvent) => boolean,
 *   onRegion: (region: object, isDone: boolean) => void, onTap: (point: [number, number], event: PointerEvent) => void}} region
 * @returns {() => void} takes the gesture off again
 */
export function drawRegion(surface, region) {
  let start = null;
  const hasMoved = (event) => start && Math.hypot(event.clientX - start.x, event.clientY - start.y) > A_TAP_MOVES_PX;
  const outline = (event) => ({ polygon: boxBetween(start.point, region.toPage(event)).map(onPage) });
  const onDown = (event) => {
    if (!event.isPrimary) {
      start = null;
      return;
    }
    if (event.button !== 0) return;
    start = { x: event.clientX, y: event.clientY, point: region.toPage(event), draws: region.draws(event), id: event.pointerId };
    if (start.draws) surface.setPointerCapture(event.pointerId);
  };
  const onMove = (event) => {
    if (start?.draws && start.id === event.pointerId && hasMoved(event)) region.onRegion(outline(event), false);
  };
  const onUp = (event) => {
    if (start?.id !== event.pointerId) return;
    if (hasMoved(event)) {
      if (start.draws) region.onRegion(outline(event), true);
    } else region.onTap(start.point, event);
    start = null;
  };
  const onCancel = () => {
    start = null;
  };
  return listen(surface, { pointerdown: onDown, pointermove: onMove, pointerup: onUp, pointercancel: onCancel });
}

/** A hand that slips over the edge means the edge. */
const onPage = ([x, y]) => [Math.min(1, Math.max(0, x)), Math.min(1, Math.max(0, y))];
