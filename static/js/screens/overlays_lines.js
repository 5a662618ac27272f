import { svg } from "../elements/h.js";
import { toPixels } from "../geometry/page_space.js";
import { viewOfPanel } from "../geometry/panel_view.js";
import { perspectiveGrid } from "../geometry/perspective_grid.js";

/** The grid of one panel and its eye level, as measured or set by hand, in px of the page; nothing where it is not known. */
export function linesOfPanel(panel, { revision }, size, { grid, level }) {
  const check = revision.checks?.find((one) => one.check === "perspective");
  const numbers = check?.numbers?.panels?.find((one) => one.panel === panel.id && one.eye_level);
  if (!numbers) return [];
  const polygon = panel.polygon.map((point) => toPixels(size, point));
  const view = viewOfPanel(numbers, panel.polygon, size, null);
  if ("reason" in view) return level ? [path("overlay-level", [numbers.eye_level.map((point) => toPixels(size, point))])] : [];
  // The floor alone, in wide steps: walls are for an underlay, where nothing is drawn beneath.
  const drawn = perspectiveGrid(view, polygon, 1, { hasWalls: false });
  return [
    grid && path("overlay-grid", drawn.floor?.flat() ?? []),
    level && path("overlay-level", drawn.eyeLevel ?? []),
  ].filter(Boolean);
}

const path = (kind, segments) => segments.length > 0 &&
  svg("path", { class: kind, d: segments.map((ends) => `M${ends.map((point) => point.map((v) => v.toFixed(1)).join(" ")).join("L")}`).join("") });
