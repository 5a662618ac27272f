import { outline } from "../geometry/crop_marks.js";
import { bounds, boxBetween } from "../geometry/page_space.js";
import { ViewTransform } from "../geometry/view_transform.js";
import { svg } from "../elements/h.js";
import { listen, panAndZoom } from "../gestures/pan_zoom.js";
import { panelBeside, panelsOf } from "./compare_facts.js";

/** The newer sheet is laid out this wide and scaled. */
export const BASE_PX = 1200;
const MARGIN_PX = 26;
const MOST_SCALE = 8;
const AROUND = 0.08;

const sizeOf = ({ newer }) => ({ width: BASE_PX, height: newer?.width_px ? (BASE_PX * newer.height_px) / newer.width_px : BASE_PX * Math.SQRT2 });
const fitted = (known) => ViewTransform.fit(sizeOf(known), known.box, MARGIN_PX);
const limits = (known) => [Math.min(fitted(known).scale, 1) * 0.9, MOST_SCALE];

const moveTo = (state, view) => state.set({ view: view.heldIn(sizeOf(state.known), state.known.box), isMoved: true });
/** By hand: no spot is kept in the middle any more. */
const moveByHand = (state, view) => {
  state.known.spot = null;
  moveTo(state, view);
};
export const panBy = (state, dx, dy) => state.known.view && moveByHand(state, state.known.view.movedBy(dx, dy));
export const wholePage = (state) => state.set({ view: fitted(state.known), isMoved: false, panel: null, spot: null });

export function zoomBy(state, factor) {
  const { known } = state;
  if (known.view) moveByHand(state, known.view.zoomedAbout([known.box.width / 2, known.box.height / 2], factor, limits(known)));
}

/** Page coordinates as the sheets are seen to the pane's own pixels. */
export function toPane(known) {
  const { width, height } = sizeOf(known);
  return ([x, y]) => known.view.toScreen([x * width, y * height]);
}

/** A spot with some of the page around it, and so it stays when the panes change their size. */
export function showSpot(state, region) {
  const [left, top, right, bottom] = bounds("point" in region ? [region.point] : region.polygon);
  keepInSight(state, { panel: null, spot: boxBetween([left - AROUND, top - AROUND], [right + AROUND, bottom + AROUND]) });
}

/** One panel at hand, as large as the pane allows. */
export function showPanel(state, panel) {
  keepInSight(state, { panel: panel.id, spot: panel.polygon });
}

function keepInSight(state, at) {
  state.set(at);
  if (state.known.box.width) moveTo(state, onto(state.known, at.spot));
}

export function stepPanel(state, step) {
  const panel = panelBeside(state.known, step);
  if (panel) showPanel(state, panel);
}

function onto(known, polygon) {
  const size = sizeOf(known);
  const [left, top, right, bottom] = bounds(polygon);
  return ViewTransform.onto([left * size.width, top * size.height, right * size.width, bottom * size.height], known.box, 30,
    Math.max(1.6, fitted(known).scale));
}

/** Both panes move and zoom as one. */
export function handleView(state, { panes, drawn, canvases }) {
  const { known } = state;
  new ResizeObserver(([{ contentRect }]) => state.set({ box: { width: contentRect.width, height: contentRect.height } })).observe(panes[0]);
  state.on(["box", "newer"], () => {
    if (!known.newer || !known.box.width) return;
    if (known.spot) moveTo(state, onto(known, known.spot));
    else if (known.isMoved && known.view) moveTo(state, known.view);
    else state.set({ view: fitted(known) });
  });
  // A finger has nothing to move where all is in sight: there it scrolls the screen.
  const isWhole = () => Boolean(known.view?.isWithin(fitted(known)));
  state.on(["view", "box", "newer"], () => panes.forEach((pane) => pane.classList.toggle("scrolls", isWhole())));
  for (const pane of panes) {
    panAndZoom(pane, {
      get: () => known.view, set: (view) => moveByHand(state, view), limits: () => limits(known),
      drags: (event) => Boolean(known.view) && !(event.pointerType === "touch" && isWhole()),
    });
    listen(pane, { pointerdown: (event) => event.button === 0 && pane.setPointerCapture(event.pointerId) });
  }
  state.on(["view", "newer"], ({ view }) => {
    if (!view) return;
    const size = sizeOf(known);
    for (const { style } of canvases) {
      style.width = `${size.width}px`;
      style.height = `${size.height}px`;
      style.transform = `translate(${view.x}px, ${view.y}px) scale(${view.scale})`;
    }
  });
  state.on(["view", "newer", "panel"], () => {
    const panel = panelsOf(known).find((one) => one.id === known.panel);
    const points = panel && known.view && panel.polygon.map(toPane(known));
    drawn.replaceChildren(...(points ? [svg("path", { class: "panel-at-hand", d: outline(points) })] : []));
  });
}
