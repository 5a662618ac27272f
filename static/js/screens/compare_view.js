import { outline } from "../geometry/crop_marks.js";
import { bounds } from "../geometry/page_space.js";
import { qualityOf } from "../geometry/page_map.js";
import { ViewTransform } from "../geometry/view_transform.js";
import { svg } from "../elements/h.js";
import { listen, panAndZoom } from "../gestures/pan_zoom.js";
import { panelBeside, panelsOf } from "./compare_facts.js";

/** The newer sheet is laid out this wide and scaled. */
export const BASE_PX = 1200;
const MARGIN_PX = 26;
const MOST_SCALE = 8;

/** Whether a map leads from the older sheet to the newer one that found something in common. */
export const canRegister = ({ steps }) => Boolean(steps?.length) && qualityOf(steps) > 0;
export const isRegistered = (known) => known.wantsRegistered && canRegister(known);

const sizeOf = ({ newer }) => ({ width: BASE_PX, height: newer?.width_px ? (BASE_PX * newer.height_px) / newer.width_px : BASE_PX * Math.SQRT2 });
const fitted = (known) => ViewTransform.fit(sizeOf(known), known.box, MARGIN_PX);
const limits = (known) => [Math.min(fitted(known).scale, 1) * 0.9, MOST_SCALE];

export const moveTo = (state, view) => state.set({ view: view.heldIn(sizeOf(state.known), state.known.box), isMoved: true });
export const wholePage = (state) => state.set({ view: fitted(state.known), isMoved: false, panel: null });

export function zoomBy(state, factor) {
  const { known } = state;
  if (known.view) moveTo(state, known.view.zoomedAbout([known.box.width / 2, known.box.height / 2], factor, limits(known)));
}

/** One panel at hand, as large as the pane allows. */
export function showPanel(state, panel) {
  state.set({ panel: panel.id });
  if (state.known.box.width) moveTo(state, onto(state.known, panel.polygon));
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
    const panel = panelsOf(known).find((one) => one.id === known.panel);
    if (panel) moveTo(state, onto(known, panel.polygon));
    else if (known.isMoved && known.view) moveTo(state, known.view);
    else state.set({ view: fitted(known) });
  });
  // A finger has nothing to move where all is in sight: there it scrolls the screen.
  const isWhole = () => Boolean(known.view?.isWithin(fitted(known)));
  state.on(["view", "box", "newer"], () => panes.forEach((pane) => pane.classList.toggle("scrolls", isWhole())));
  for (const pane of panes) {
    panAndZoom(pane, {
      get: () => known.view, set: (view) => moveTo(state, view), limits: () => limits(known),
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
    const [{ width, height }, view] = [sizeOf(known), known.view];
    const points = panel && view && panel.polygon.map(([x, y]) => view.toScreen([x * width, y * height]));
    drawn.replaceChildren(...(points ? [svg("path", { class: "panel-at-hand", d: outline(points) })] : []));
  });
}
