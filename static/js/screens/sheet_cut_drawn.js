import { h, svg } from "../elements/h.js";
import { cropMarks, outline } from "../geometry/crop_marks.js";
import { bounds, boxBetween } from "../geometry/page_space.js";
import { shifted, withCorner } from "../geometry/panel_edits.js";
import { listen } from "../gestures/pan_zoom.js";
import { add, choose, chosenOf, panelUnder, reshape } from "./panels_edit_model.js";

const A_DRAG_MOVES = 0.012;
const A_FINGERTIP_PX = 16;

/**
 * The sheet with its parts drawn over it: a press chooses one, dragging it moves it, its corners shape it, and a drag elsewhere draws a
 * new one.
 * @param {{url: string, width_px: number, height_px: number}} rendition
 * @param {{get: () => import("./panels_edit_model.js").Edit, set: (edit: any) => void}} edits
 */
export function sheetDrawn({ url, width_px: width, height_px: height }, edits) {
  const size = Math.max(width, height) / 60;
  const layer = svg("g", {});
  const surface = svg("svg", { class: "sheet-cut", width, height, viewBox: `0 0 ${width} ${height}`, tabindex: "0", role: "application",
    "aria-label": "The sheet. Page Up and Page Down choose a part, arrow keys move it, with Shift they size it, Delete takes it away." },
    svg("image", { href: url, width, height }), layer);
  const px = ([x, y]) => [x * width, y * height];
  const draw = (edit, draft = null) => layer.replaceChildren(
    ...edit.panels.map((panel, i) => drawPart(panel, i, panel.key === edit.chosen, { px, size })),
    ...(draft ? [svg("path", { class: "sheet-cut-draft", d: outline(draft.map(px)) })] : []));
  dragParts(surface, edits, draw, { px, size, width, height });
  return { element: h("div", { class: "sheet-cut-frame" }, surface), draw };
}

function drawPart(panel, i, isChosen, { px, size }) {
  const points = panel.polygon.map(px);
  const [left, top] = bounds(points);
  return svg("g", { class: isChosen ? "sheet-cut-part is-chosen" : "sheet-cut-part" },
    svg("path", { class: "sheet-cut-area", d: outline(points) }), svg("path", { class: "sheet-cut-marks", d: cropMarks(bounds(points), size / 4, size) }),
    svg("text", { x: left + size / 2, y: top + 2 * size, "font-size": 1.8 * size }, String(i + 1)),
    isChosen && points.map(([x, y]) => svg("rect", { class: "sheet-cut-corner", x: x - size / 2, y: y - size / 2, width: size, height: size })));
}

function dragParts(surface, edits, draw, { size, width, height }) {
  let held = null;
  const at = (event) => {
    const box = surface.getBoundingClientRect();
    return [(event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height].map((v) => Math.min(1, Math.max(0, v)));
  };
  // A fingertip, however small the sheet is shown.
  const reachNow = () => Math.max(1.4 * size, (A_FINGERTIP_PX * width) / surface.getBoundingClientRect().width);
  const cornerAt = (panel, [x, y], reach) => panel?.polygon.findIndex((one) => Math.hypot((one[0] - x) * width, (one[1] - y) * height) < reach) ?? -1;
  const down = (event) => {
    if (!event.isPrimary || event.button) return;
    const point = at(event);
    const chosen = chosenOf(edits.get());
    const corner = cornerAt(chosen, point, reachNow());
    const under = corner >= 0 ? chosen : panelUnder(edits.get(), point);
    held = { point, corner, from: under?.polygon, isDragged: false };
    surface.setPointerCapture(event.pointerId);
    if (under && under.key !== edits.get().chosen) edits.set(choose(edits.get(), under.key));
  };
  const move = (event) => {
    if (!held || !event.isPrimary) return;
    const point = at(event);
    const by = point.map((v, i) => v - held.point[i]);
    if (!held.isDragged && Math.hypot(...by) < A_DRAG_MOVES) return;
    const isSame = held.isDragged;
    held.isDragged = true;
    if (!held.from) draw(edits.get(), boxBetween(held.point, point));
    else edits.set(reshape(edits.get(), held.corner >= 0 ? withCorner(held.from, held.corner, point) : shifted(held.from, by), isSame));
  };
  const up = (event) => {
    if (held?.isDragged && !held.from) edits.set(add(edits.get(), held.point, at(event)));
    held = null;
  };
  listen(surface, { pointerdown: down, pointermove: move, pointerup: up, pointercancel: () => { held = null; draw(edits.get()); } });
}
