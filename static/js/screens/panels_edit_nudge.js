/** Panels corrected without a pointer: a corner, the panel or a cut is at hand, and arrow keys move it. */
import { middleOf } from "../geometry/page_space.js";
import { shifted, withCorner, withEdge } from "../geometry/panel_edits.js";
import { chosenOf, reshape } from "./panels_edit_model.js";

/** The corner at hand goes round the outline, then the whole panel is at hand again. */
export function nextCorner(edit) {
  const panel = chosenOf(edit);
  if (!panel) return edit;
  const next = edit.corner === null ? 0 : edit.corner + 1;
  return { ...edit, corner: next < panel.polygon.length ? next : null };
}

/** By arrow keys: the corner at hand, or the whole panel; with `isEdge` its right and lower edges. */
export function nudge(edit, by, isEdge = false) {
  const panel = chosenOf(edit);
  if (edit.line) return { ...edit, line: edit.line.map(([x, y]) => [x + by[0], y + by[1]]) };
  if (!panel) return edit;
  const { polygon } = panel;
  if (edit.corner !== null) return reshape(edit, withCorner(polygon, edit.corner, polygon[edit.corner].map((v, i) => v + by[i])));
  return reshape(edit, isEdge ? withEdge(polygon, edgeTowards(polygon, by), by) : shifted(polygon, by));
}

/** The edge that lies furthest right (for a step across) or furthest down. */
function edgeTowards(polygon, [dx]) {
  const axis = dx ? 0 : 1;
  const reach = polygon.map((one, k) => one[axis] + polygon[(k + 1) % polygon.length][axis]);
  return reach.indexOf(Math.max(...reach));
}

/** A line through the middle of the chosen panel, to be moved by arrow keys and cut by Enter. */
export function withLine(edit, isUpright) {
  const panel = chosenOf(edit);
  if (!panel) return edit;
  const [x, y] = middleOf({ polygon: panel.polygon });
  return { ...edit, tool: "cut", line: isUpright ? [[x, y - 0.5], [x, y + 0.5]] : [[x - 0.5, y], [x + 0.5, y]] };
}
