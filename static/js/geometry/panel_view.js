import { bounds, toPixels } from "./page_space.js";
import { cross } from "./vectors.js";
import { groundView } from "./view_of_points.js";

/**
 * The view of a panel from the numbers that the perspective check keeps of it, or that `panel_seen.js` gives.
 * @param {{eye_level: [number, number][], vanishing_points: {point: number[], role: string}[], focal_px: number|null, centre?: [number, number]}|null} numbers
 * @param {[number, number][]} polygon page coordinates
 * @param {{width: number, height: number}} size of the page, px
 * @param {number|null} eyeHeightM
 */
export function viewOfPanel(numbers, polygon, size, eyeHeightM = null) {
  if (!numbers?.eye_level) return { reason: "The perspective of this panel is not measured." };
  const [left, top, right, bottom] = bounds(polygon.map((point) => toPixels(size, point)));
  const [start, end] = numbers.eye_level.map((point) => [...toPixels(size, point), 1]);
  const points = (role) => numbers.vanishing_points.filter((one) => one.role === role)
    .map(({ point: [x, y, w] }) => [x * size.width, y * size.height, w]);
  return groundView({
    horizon: cross(start, end), level: points("level"), upright: points("upright")[0] ?? null,
    middle: [(left + right) / 2, (top + bottom) / 2], diagonalPx: Math.hypot(right - left, bottom - top),
    focalPx: numbers.focal_px, eyeHeightM, centre: numbers.centre ? toPixels(size, numbers.centre) : null,
  });
}

/** A post on a floor point: foot and top, or the reason why there is none. */
export function postLine(view, foot, heightM) {
  if (!view.isMeasured) return { reason: "How high the viewer's eye is has to be known before a thing of real size can be drawn." };
  const at = view.floorAt(foot);
  if ("reason" in at) return at;
  const [x, y, w] = view.seen(at.map((v, i) => v - heightM * view.down[i]));
  return w > 0 ? { ends: [foot, [x / w, y / w]] } : { reason: "A post of this height would reach past the viewer." };
}
