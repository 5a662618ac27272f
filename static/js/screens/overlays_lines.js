import { svg } from "../elements/h.js";
import { toPixels } from "../geometry/page_space.js";
import { seenIn } from "../geometry/panel_seen.js";
import { viewOfPanel } from "../geometry/panel_view.js";
import { perspectiveGrid } from "../geometry/perspective_grid.js";

/** The grid of one panel and its eye level, as an underlay has them, in px of the page; nothing where it is not known. */
export function linesOfPanel(panel, { revision }, size, { grid, level }) {
  const numbers = seenIn(panel, revision);
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

const measuredOf = (panel, revision) =>
  revision.checks?.find((one) => one.check === "perspective")?.numbers?.panels?.find((one) => one.panel === panel.id);

/** Edges that run to one point are drawn alike, and each family with another stroke. Of what was measured long ago none are kept. */
export function familiesOfPanel(panel, { revision }, size) {
  const families = (measuredOf(panel, revision)?.edges ?? []).map(({ lines }) => lines.map((ends) => ends.map((point) => toPixels(size, point))));
  // On paper of their own, else the drawn line would show between the dashes.
  return families.flatMap((lines, k) => [path("overlay-edges-under", lines), path(`overlay-edges family-${k % 4}`, lines)]).filter(Boolean);
}

const path = (kind, segments) => segments.length > 0 &&
  svg("path", { class: kind, d: segments.map((ends) => `M${ends.map((point) => point.map((v) => v.toFixed(1)).join(" ")).join("L")}`).join("") });
