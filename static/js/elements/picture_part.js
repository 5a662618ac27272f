import { bounds } from "../geometry/page_space.js";
import { svg } from "./h.js";

/**
 * One panel cut out of its page for a small picture: the page's own rendition, seen through a window.
 * @param {{url: string, width_px: number, height_px: number}} rendition
 * @param {[number, number][]} polygon page coordinates
 */
export function picturePart(rendition, polygon, props = {}) {
  const [left, top, right, bottom] = bounds(polygon);
  const [w, hgt] = [rendition.width_px, rendition.height_px];
  const window = [left * w, top * hgt, Math.max(1, (right - left) * w), Math.max(1, (bottom - top) * hgt)].map((v) => v.toFixed(1));
  const [x, y, width, height] = window;
  // The inner one cuts off: the outer may be of another shape, and would show what stands around the panel.
  return svg("svg", { viewBox: window.join(" "), preserveAspectRatio: "xMidYMid meet", "aria-hidden": "true", ...props },
    svg("svg", { x, y, width, height, viewBox: window.join(" ") }, svg("image", { href: rendition.url, width: w, height: hgt })));
}

/** The smallest rendition that is at least `width_px` wide, or the largest there is. A small picture is its own larger copy: of those
 * as wide the first, which a screen shows already. */
export function renditionFor(renditions, widthPx) {
  const rising = [...(renditions ?? [])].sort((a, b) => a.width_px - b.width_px);
  const enoughPx = Math.min(widthPx, rising.at(-1)?.width_px ?? 0);
  return rising.find((one) => one.width_px >= enoughPx) ?? null;
}
