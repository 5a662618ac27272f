/**
 * Pan and zoom of one view, by wheel, pinch and drag. Knows no page: it asks for the view and gives a new one back.
 *
 * @param {HTMLElement} surface
 * @param {{get: () => any, set: (view: any) => void, limits: () => [number, number], drags: (event: PointerEvent) => boolean}} view
 *   `drags`: whether this pointer moves the picture (else another gesture has it)
 * @returns {() => void} takes the gesture off again
 */
export function panAndZoom(surface, view) {
  const fingers = new Map();
  const at = (event) => {
    const box = surface.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };
  const onWheel = (event) => {
    const factor = Math.exp(-event.deltaY * (event.deltaMode ? 0.05 : event.ctrlKey ? 0.01 : 0.0022));
    const next = view.get().zoomedAbout(at(event), factor, view.limits());
    // Zoomed out all the way, the wheel belongs to the screen again.
    if (next.scale === view.get().scale) return;
    event.preventDefault();
    view.set(next);
  };
  const onDown = (event) => {
    if (fingers.size === 0 && !view.drags(event)) return;
    fingers.set(event.pointerId, at(event));
  };
  const onMove = (event) => {
    if (!fingers.has(event.pointerId)) return;
    const before = [...fingers.values()];
    fingers.set(event.pointerId, at(event));
    view.set(moved(view.get(), before, [...fingers.values()], view.limits()));
  };
  const onUp = (event) => fingers.delete(event.pointerId);
  return listen(surface, { wheel: onWheel, pointerdown: onDown, pointermove: onMove, pointerup: onUp, pointercancel: onUp });
}

/** One finger moves, two fingers move and zoom about their middle. */
function moved(view, before, after, limits) {
  const [from, to] = [middle(before), middle(after)];
  const shifted = view.movedBy(to[0] - from[0], to[1] - from[1]);
  if (before.length < 2) return shifted;
  return shifted.zoomedAbout(to, apart(after) / Math.max(1, apart(before)), limits);
}

const middle = (points) => [0, 1].map((axis) => points.reduce((sum, point) => sum + point[axis], 0) / points.length);
const apart = ([a, b]) => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** Adds listeners and gives back what removes them. */
export function listen(target, handlers) {
  for (const [type, handler] of Object.entries(handlers)) target.addEventListener(type, handler, { passive: false });
  return () => {
    for (const [type, handler] of Object.entries(handlers)) target.removeEventListener(type, handler);
  };
}
