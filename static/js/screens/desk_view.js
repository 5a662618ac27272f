import { boxOnScreen } from "../elements/note_marks.js";
import { drawRegion } from "../gestures/draw_region.js";
import { panAndZoom } from "../gestures/pan_zoom.js";
import { contains } from "../geometry/page_space.js";
import { beginDraft, changeDraft, showDraft } from "./desk_draft.js";
import { notesListed, panelAt, regionOn } from "./desk_facts.js";
import { fitted, isWhole, limits, onto, sizeOf, toPage, toScreen } from "./desk_picture.js";

/** The picture's own surface: it is moved and zoomed, regions are drawn on it, notes and panels are chosen by a tap. */
export function handleView(state, surface) {
  const { known } = state;
  keepBox(state, surface);
  state.on(["revision", "box"], () => {
    if (!known.revision || !known.box.width) return;
    if (known.isMoved && known.view) moveTo(state, known.view);
    else state.set({ view: fitted(known) });
  });
  // A finger has nothing to move where all is in sight: there it scrolls the screen, unless it draws.
  const scrolls = () => Boolean(known.view) && isWhole(known) && !known.pins && !known.edit && !known.marking && !known.posting && !known.shaping;
  state.on(["view", "box", "revision", "pins", "edit", "marking", "posting", "shaping"], () => surface.classList.toggle("scrolls", scrolls()));
  const pagePoint = (event) => {
    const box = surface.getBoundingClientRect();
    return toPage(known, [event.clientX - box.left, event.clientY - box.top]);
  };
  const draws = (event) => Boolean(known.revision) && !known.edit && !known.marking && !known.posting && known.may.write && !event.altKey && (known.pins || event.pointerType !== "touch");
  panAndZoom(surface, {
    get: () => known.view, set: (view) => moveTo(state, view), limits: () => limits(known),
    drags: (event) => Boolean(known.view) && (event.button === 1 || !draws(event)) && !(event.pointerType === "touch" && scrolls()),
  });
  drawRegion(surface, {
    toPage: pagePoint,
    draws,
    onRegion: (region, isDone) => {
      if (known.draft && !known.draft.note) changeDraft(state, { region });
      else beginDraft(state, { region });
      if (isDone) requestAnimationFrame(showDraft);
    },
    onTap: (point, event) => known.revision && !known.edit && !known.marking && !known.posting && tap(state, point, event),
  });
}

export const moveTo = (state, view) => state.set({ view: view.heldIn(sizeOf(state.known.revision), state.known.box), isMoved: true });
export const wholePage = (state) => state.set({ view: fitted(state.known), isMoved: false });

/** About the middle of the view. */
export function zoomBy(state, factor) {
  const { known } = state;
  if (known.view) moveTo(state, known.view.zoomedAbout([known.box.width / 2, known.box.height / 2], factor, limits(known)));
}

function keepBox(state, surface) {
  new ResizeObserver(([{ contentRect }]) => state.set({ box: { width: contentRect.width, height: contentRect.height } })).observe(surface);
}

function tap(state, point, event) {
  const { known } = state;
  if (known.pins) return import("./pin_by_taps.js").then((taps) => taps.pinByTaps(state, point));
  if (event.shiftKey) return beginDraft(state, { region: { point } });
  const note = noteAt(known, point);
  if (note) return state.set({ note: note.id });
  const panel = panelAt(known, point);
  return state.set({ panel: panel?.id ?? null, note: null });
}

/** The smallest marked region under the point, so that a small one within a large one can be chosen. */
function noteAt(known, point) {
  const [x, y] = toScreen(known)(point);
  const hits = notesListed(known).flatMap((note) => {
    const region = regionOn(note, known);
    if (!region) return [];
    const [left, top, right, bottom] = boxOnScreen(region, toScreen(known));
    const isIn = "point" in region ? Math.hypot(x - (left + right) / 2, y - (top + bottom) / 2) < 16 : contains(region.polygon, point);
    return isIn ? [{ note, area: (right - left) * (bottom - top) }] : [];
  });
  return hits.sort((a, b) => a.area - b.area)[0]?.note ?? null;
}

/** One panel at hand, as large as the view allows. */
export function showPanel(state, panel) {
  state.set({ panel: panel.id, note: null });
  moveTo(state, onto(state.known, panel.polygon));
}
