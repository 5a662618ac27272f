import { registerMark } from "../geometry/crop_marks.js";
import { keptWithin, linePaths } from "../geometry/drawn_lines.js";
import { area, boxBetween } from "../geometry/page_space.js";
import { listen } from "../gestures/pan_zoom.js";
import { svg } from "../elements/h.js";
import { toPage, toScreen } from "./desk_picture.js";

const A_TAP_MOVES_PX = 4;
const FINE_PX = 0.7; // a stroke keeps what the eye can see

/** Draws with mouse, pen or finger what the tool in hand makes; shows what is being drawn, and the cross of the keys. */
export function drawByHand(state, layer, deeds) {
  const { known } = state;
  const hand = { id: null, px: [], pressures: [], isPen: false };
  const at = (event) => {
    const box = layer.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };
  const show = () => layer.replaceChildren(...(known.shaping && known.view ? drawAll(known, hand) : []));
  const put = (event) => {
    const isCollected = ["stroke", "outline"].includes(known.shaping.tool);
    if (!isCollected) hand.px.length = Math.min(hand.px.length, 1);
    const moves = isCollected ? event.getCoalescedEvents?.() : null;
    for (const one of moves?.length ? moves : [event]) {
      hand.px.push(at(one));
      hand.pressures.push(one.pressure);
    }
  };
  const drop = () => {
    Object.assign(hand, { id: null, px: [], pressures: [] });
    show();
  };
  listen(layer, {
    pointerdown: (event) => {
      if (!event.isPrimary || event.button !== 0 || event.altKey) return drop();
      event.stopPropagation();
      layer.setPointerCapture(event.pointerId);
      Object.assign(hand, { id: event.pointerId, px: [], pressures: [], isPen: event.pointerType === "pen" });
      put(event);
      return show();
    },
    pointermove: (event) => {
      if (event.pointerId !== hand.id) return;
      event.stopPropagation();
      put(event);
      show();
    },
    pointerup: (event) => {
      if (event.pointerId !== hand.id) return;
      event.stopPropagation();
      finish(known, hand, deeds);
      drop();
    },
    pointercancel: drop,
  });
  state.on(["shaping", "view", "box"], show);
}

const within = (v) => Math.min(1, Math.max(0, v));

function finish(known, { px, pressures, isPen }, deeds) {
  const { tool } = known.shaping;
  const onPage = (point) => toPage(known, point).map(within);
  const [first, last] = [px[0], px.at(-1)];
  if (tool === "spot") return deeds.region({ point: onPage(last) });
  const reach = Math.max(...px.map(([x, y]) => Math.hypot(x - first[0], y - first[1])));
  if (reach <= A_TAP_MOVES_PX) return undefined;
  if (tool === "box") return enclosing(boxBetween(onPage(first), onPage(last)), deeds);
  if (tool === "arrow") return deeds.line({ kind: "arrow", points: [onPage(first), onPage(last)] });
  const kept = keptWithin(px, FINE_PX);
  const points = kept.map((i) => onPage(px[i]));
  if (tool === "outline") return enclosing(points, deeds);
  return deeds.line({ kind: "stroke", points, ...(isPen ? { pressures: kept.map((i) => Math.round(pressures[i] * 100) / 100) } : {}) });
}

/** An outline that encloses nothing is none. */
export const enclosing = (polygon, deeds) => (polygon.length > 2 && area(polygon) > 1e-6 ? deeds.region({ polygon }) : undefined);

function drawAll(known, { px }) {
  const { tool, cross, begun } = known.shaping;
  const toView = toScreen(known);
  const preview = px.length ? px : [...begun, ...(begun.length ? [cross] : [])].map(toView);
  return [...drawPreview(tool, preview), svg("path", { class: "shape-cross", d: registerMark(toView(cross), 5) })];
}

function drawPreview(tool, px) {
  if (px.length < 2 || tool === "spot") return [];
  const points = tool === "box" ? [...boxBetween(px[0], px.at(-1)), px[0]] : tool === "outline" ? [...px, px[0]] : tool === "arrow" ? [px[0], px.at(-1)] : px;
  return linePaths({ kind: tool === "arrow" ? "arrow" : "stroke", points }, (point) => point).map(({ d, width }) => svg("path", { class: "shape-preview", d, "stroke-width": width }));
}
