import { listen } from "./pan_zoom.js";

/**
 * Drags the nearer end of a line up and down.
 * @param {SVGSVGElement} surface
 * @param {{ends: () => [number, number][], onDrag: (end: 0|1, y: number) => void}} line in the surface's own coordinates
 * @returns {() => void} takes the gesture away
 */
export function dragLevel(surface, { ends, onDrag }) {
  const held = { end: /** @type {0|1|null} */ (null) };
  const at = (event) => new DOMPoint(event.clientX, event.clientY).matrixTransform(surface.getScreenCTM().inverse());
  const onDown = (event) => {
    const { x } = at(event);
    const [first, second] = ends();
    held.end = Math.abs(x - first[0]) <= Math.abs(x - second[0]) ? 0 : 1;
    surface.setPointerCapture(event.pointerId);
    event.preventDefault();
    onDrag(held.end, at(event).y);
  };
  const onMove = (event) => held.end !== null && onDrag(held.end, at(event).y);
  const onUp = () => {
    held.end = null;
  };
  return listen(surface, { pointerdown: onDown, pointermove: onMove, pointerup: onUp, pointercancel: onUp });
}
