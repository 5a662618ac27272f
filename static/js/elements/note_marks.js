import { cropMarks, outline, registerMark } from "../geometry/crop_marks.js";
import { bounds } from "../geometry/page_space.js";
import { svg } from "./h.js";

/** Crop marks around an outline, a register mark at a point. */
export function drawMark(region, at, className) {
  const d = "point" in region ? registerMark(at(region.point)) : cropMarks(boxOnScreen(region, at));
  const free = region.polygon?.length > 4 ? outline(region.polygon.map(at)) : "";
  return svg("g", { class: className }, svg("path", { class: "under", d: d + free }), svg("path", { class: "over", d }), free && svg("path", { class: "over outline", d: free }));
}

/** left, top, right, bottom of a region on the screen. */
export function boxOnScreen(region, at) {
  if ("point" in region) {
    const [x, y] = at(region.point);
    return [x - 7, y - 7, x + 7, y + 7];
  }
  return bounds(region.polygon.map(at));
}
