import { svg } from "../elements/h.js";
import { registerMark } from "../geometry/crop_marks.js";
import { listen } from "../gestures/pan_zoom.js";
import { toPage, toScreen } from "./desk_picture.js";
import { drawProposal, proposalNear } from "./figure_proposals.js";
import { endsOf, FURTHER, nameOf } from "./figures_mark_model.js";

const A_TAP_MOVES_PX = 6;
const NEAR_PX = 14;
const SHORT = new Map(FURTHER);

/** Marks over the picture, and what a tap does: it sets the next mark, or takes a marked figure in hand. A drag moves the picture. */
export function drawFiguresMark(state, surface, deeds) {
  const { known } = state;
  const layer = svg("svg", { class: "figures-mark", "aria-hidden": "true" });
  surface.append(layer);
  let from = null;
  let held = null;
  const isFinger = (event) => event.pointerType === "touch";
  const onDown = (event) => {
    from = event.button === 0 && event.isPrimary ? [event.clientX, event.clientY] : null;
    // Close up, a finger anywhere moves the cross along, and hides nothing.
    held = from && known.marking.closeUp && isFinger(event) ? toScreen(known)(known.marking.cursor) : null;
    if (held) event.stopPropagation();
  };
  const onMove = (event) => {
    if (held && event.isPrimary) deeds.cursor(onPage(known, [held[0] + event.clientX - from[0], held[1] + event.clientY - from[1]]));
  };
  const onUp = (event) => {
    const wasTap = from && Math.hypot(event.clientX - from[0], event.clientY - from[1]) <= A_TAP_MOVES_PX;
    from = held = null;
    if (!wasTap) return;
    const box = surface.getBoundingClientRect();
    const at = [event.clientX - box.left, event.clientY - box.top];
    const { marking } = known;
    const near = marking.crown || marking.further || marking.closeUp ? null : figureNear(marking, at, toScreen(known));
    const proposed = near || marking.crown || marking.further || marking.closeUp ? null : proposalNear(marking, at, toScreen(known));
    if (proposed) deeds.ask(proposed.id);
    else if (near) deeds.change({ ...marking, chosen: near.id, character: near.character, asked: null });
    else if (marking.closeUp && isFinger(event)) deeds.cursor(onPage(known, at));
    else deeds.point(onPage(known, at), isFinger(event));
  };
  listen(layer, { pointerdown: onDown, pointermove: onMove, pointerup: onUp, pointercancel: () => { from = held = null; } });
  state.on(["marking", "view", "box"], ({ marking, view }) =>
    marking && view && layer.replaceChildren(...drawAll(marking, toScreen(known))));
}

const onPage = (known, at) => toPage(known, at).map((v) => Math.min(1, Math.max(0, v)));

/** The figure whose crown or soles were hit. */
function figureNear({ figures }, [x, y], toPx) {
  return figures.find((figure) => endsOf(figure)?.map(toPx).some(([px, py]) => Math.hypot(px - x, py - y) < NEAR_PX)) ?? null;
}

function drawAll(marking, toPx) {
  const begunAt = [marking.crown, marking.sole].filter(Boolean);
  return [
    ...marking.proposals.flatMap((one) => drawProposal(one, marking, toPx)),
    ...marking.figures.flatMap((figure) => drawFigure(figure, marking, toPx)),
    ...(begunAt.length === 2 ? [line("figure-axis is-begun", ...begunAt.map(toPx))] : []),
    ...begunAt.map((point) => svg("path", { class: "figure-end is-begun", d: registerMark(toPx(point), 7) })),
    svg("path", { class: "figure-cross", d: registerMark(toPx(marking.cursor), 11) }),
  ];
}

function drawFigure(figure, marking, toPx) {
  const ends = endsOf(figure);
  if (!ends) return [];
  const isChosen = figure.id === marking.chosen ? " is-chosen" : "";
  const [crown, sole] = ends.map(toPx);
  const further = Object.entries(figure.marks).filter(([name]) => SHORT.has(name));
  return [
    ...(marking.closeUp ? [] : [line(`figure-axis${isChosen}`, crown, sole)]), // it would hide the chin
    ...[crown, sole].map((end) => svg("path", { class: `figure-end${isChosen}`, d: registerMark(end, 6) })),
    ...further.map(([, point]) => svg("path", { class: `figure-end${isChosen}`, d: registerMark(toPx(point), 4) })),
    svg("text", { class: "figure-name", x: crown[0] + 8, y: crown[1] - 8 }, nameOf(marking, figure.character)),
  ];
}

const line = (kind, [x0, y0], [x1, y1]) => svg("path", { class: kind, d: `M${x0} ${y0}L${x1} ${y1}` });
