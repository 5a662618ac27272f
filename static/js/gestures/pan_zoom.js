/**
 * Pan and zoom of one view, by wheel, pinch and drag. Knows no page: it asks for the view and gives a new one back. Two fingers zoom and
 * move whatever else one finger does on the surface: that is given up when the second comes down.
 *
 * @param {HTMLElement} surface
 * @param {{get: () => any, set: (view: any) => void, limits: () => [number, number], drags: (event: PointerEvent) => boolean}} view
 *   `drags`: whether this pointer alone moves the picture (else another gesture has it)
 * @returns {() => void} takes the gesture off again
 */
export function panAndZoom(surface, view) {
  const down = new Map();
  const movers = new Set();
  const at = (event) => {
    const box = surface.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };
  const onWheel = (event) => {
    if (!view.get()) return;
    if (event.shiftKey) {
      event.preventDefault();
      return view.set(view.get().movedBy(0, -(event.deltaY || event.deltaX))); // Shift may turn it aside
    }
    const factor = Math.exp(-event.deltaY * (event.deltaMode ? 0.05 : event.ctrlKey ? 0.01 : 0.0022));
    const next = view.get().zoomedAbout(at(event), factor, view.limits());
    // Zoomed out all the way, the wheel belongs to the screen again.
    if (next.scale === view.get().scale) return;
    event.preventDefault();
    view.set(next);
  };
  const put = (event) => down.set(event.pointerId, { at: at(event), target: event.target });
  // Fingers are counted before anything that lies on the surface takes them.
  const onFinger = (event) => {
    if (event.pointerType !== "touch") return;
    for (const [pointerId, { target }] of down) target.dispatchEvent(new PointerEvent("pointercancel", { pointerId, bubbles: true }));
    put(event);
  };
  const onDown = (event) => {
    if (!view.drags(event)) return;
    movers.add(event.pointerId);
    put(event);
  };
  const onMove = (event) => {
    const pointer = down.get(event.pointerId);
    if (!pointer) return;
    const before = [...down.values()].map((one) => one.at);
    pointer.at = at(event);
    if (view.get() && (down.size > 1 || movers.has(event.pointerId))) view.set(moved(view.get(), before, [...down.values()].map((one) => one.at), view.limits()));
  };
  const onUp = (event) => {
    if (!event.isTrusted) return;
    down.delete(event.pointerId);
    movers.delete(event.pointerId);
  };
  const [early, late] = [
    listen(surface, { pointerdown: onFinger, pointermove: onMove, pointerup: onUp, pointercancel: onUp }, { capture: true }),
    listen(surface, { wheel: onWheel, pointerdown: onDown }),
  ];
  return () => {
    early();
    late();
  };
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
export function listen(target, handlers, options = {}) {
  for (const [type, handler] of Object.entries(handlers)) target.addEventListener(type, handler, { passive: false, ...options });
  return () => {
    for (const [type, handler] of Object.entries(handlers)) target.removeEventListener(type, handler, options);
  };
}
