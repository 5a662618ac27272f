import { svg } from "../elements/h.js";
import { outline, registerMark } from "../geometry/crop_marks.js";
import { middleOf } from "../geometry/page_space.js";
import { withCorner, withEdge } from "../geometry/panel_edits.js";
import { listen } from "../gestures/pan_zoom.js";
import { toPage, toScreen } from "./desk_picture.js";
import { add, choose, chosenOf, cutBy, exchangedWith, mergeWith, panelUnder, reshape } from "./panels_edit_model.js";

const HOLD_PX = 15;
const A_TAP_MOVES_PX = 6;

/** The outlines over the picture, with a hold at each corner and edge of the chosen one; and what a pointer does to them. */
export function drawPanelsEdit(state, surface) {
  const { known } = state;
  const layer = svg("svg", { class: "panels-edit", "aria-hidden": "true" });
  surface.append(layer);
  const change = (edit) => edit && state.set({ edit });
  const at = (event) => {
    const box = surface.getBoundingClientRect();
    return toPage(known, [event.clientX - box.left, event.clientY - box.top]);
  };
  let drag = null;
  const onDown = (event) => {
    const { edit } = known;
    const { corner, edge } = event.target.dataset;
    // With no tool in hand and beside the holds, the picture itself is moved.
    if (event.button !== 0 || (edit.tool === "shape" && corner === undefined && edge === undefined)) {
      drag = { isPan: true, start: [event.clientX, event.clientY] };
      return;
    }
    event.stopPropagation();
    layer.setPointerCapture(event.pointerId);
    drag = { corner, edge, from: at(event), start: [event.clientX, event.clientY], polygon: chosenOf(edit)?.polygon, hasMoved: false, past: edit.past.length };
  };
  const onMove = (event) => {
    if (!drag || drag.isPan) return;
    const isFar = Math.hypot(event.clientX - drag.start[0], event.clientY - drag.start[1]) > A_TAP_MOVES_PX;
    if (!drag.hasMoved && !isFar) return;
    const point = at(event);
    const isSame = known.edit.past.length > drag.past;
    if (drag.corner !== undefined) change(reshape(known.edit, withCorner(drag.polygon, Number(drag.corner), point), isSame));
    else if (drag.edge !== undefined) change(reshape(known.edit, withEdge(drag.polygon, Number(drag.edge), [point[0] - drag.from[0], point[1] - drag.from[1]]), isSame));
    else change({ ...known.edit, line: [drag.from, point] });
    drag.hasMoved = true;
  };
  const onUp = (event) => {
    const { edit } = known;
    const wasTap = drag && Math.hypot(event.clientX - drag.start[0], event.clientY - drag.start[1]) <= A_TAP_MOVES_PX;
    if (drag && wasTap) change(tapped(edit, at(event), drag, known.board.reading));
    else if (drag?.hasMoved && drag.corner === undefined && drag.edge === undefined) change(drawnLine(edit, [drag.from, at(event)], known.board.reading));
    drag = null;
  };
  const onCancel = () => {
    drag = null;
    change({ ...known.edit, line: null });
  };
  listen(layer, { pointerdown: onDown, pointermove: onMove, pointerup: onUp, pointercancel: onCancel });
  const draw = () => known.edit && known.view && layer.replaceChildren(...drawAll(known.edit, toScreen(known)));
  state.on(["edit", "view", "box"], draw);
}

/** Without dragging: a corner, then where it belongs; for a new panel or a cut, one end and then the other. */
function tapped(edit, point, { corner }, reading) {
  const withOther = { merge: mergeWith, exchange: exchangedWith }[edit.tool];
  if (withOther) return (edit.chosen ? withOther : choose)(edit, panelUnder(edit, point)?.key ?? null);
  if (edit.tool !== "shape") return edit.line ? drawnLine(edit, [edit.line[0], point], reading) : { ...edit, line: [point, point] };
  if (corner !== undefined) return { ...edit, corner: Number(corner) };
  if (edit.corner !== null) return { ...reshape(edit, withCorner(chosenOf(edit).polygon, edit.corner, point)), corner: null };
  return choose(edit, panelUnder(edit, point)?.key ?? null);
}

function drawnLine(edit, line, reading) {
  if (edit.tool === "add") return add(edit, ...line);
  return cutBy(edit, line, reading) ?? { ...edit, line: null };
}

function drawAll(edit, toPx) {
  const panels = edit.panels.flatMap((panel, k) => {
    const isChosen = panel.key === edit.chosen;
    const [x, y] = toPx(middleOf(panel));
    return [svg("path", { class: isChosen ? "edited is-chosen" : "edited", d: outline(panel.polygon.map(toPx)) }),
      svg("text", { class: "edited-place", x, y }, String(k + 1))];
  });
  const theirs = edit.theirs.map(({ polygon }) => svg("path", { class: "edited-by-another", d: outline(polygon.map(toPx)) }));
  return [...theirs, ...panels, ...holdsOf(edit, toPx), ...drawTool(edit, toPx)];
}

function holdsOf(edit, toPx) {
  const points = chosenOf(edit)?.polygon.map(toPx) ?? [];
  return points.flatMap(([x, y], k) => {
    const [nextX, nextY] = points[(k + 1) % points.length];
    const middle = [(x + nextX) / 2, (y + nextY) / 2];
    return [
      svg("path", { class: "edge-hold", d: `M${(x + 3 * nextX) / 4} ${(y + 3 * nextY) / 4}L${(3 * x + nextX) / 4} ${(3 * y + nextY) / 4}` }),
      svg("circle", { class: "hold-area", cx: middle[0], cy: middle[1], r: HOLD_PX, "data-edge": k }),
      svg("path", { class: edit.corner === k ? "corner-hold is-at-hand" : "corner-hold", d: registerMark([x, y], 5) }),
      svg("circle", { class: "hold-area", cx: x, cy: y, r: HOLD_PX, "data-corner": k }),
    ];
  });
}

function drawTool({ tool, line }, toPx) {
  if (!line) return [];
  const [[x0, y0], [x1, y1]] = line.map(toPx);
  const d = tool === "add" ? `M${x0} ${y0}H${x1}V${y1}H${x0}Z` : `M${x0} ${y0}L${x1} ${y1}`;
  return [svg("path", { class: "edit-line", d }), svg("path", { class: "corner-hold is-at-hand", d: registerMark([x0, y0], 5) })];
}
