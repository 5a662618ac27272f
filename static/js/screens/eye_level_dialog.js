import { freePerspective, givePerspective } from "../api/pages.js";
import { openDialog } from "../elements/dialog.js";
import { field, form } from "../elements/field.js";
import { h, svg, word } from "../elements/h.js";
import { renditionFor } from "../elements/picture_part.js";
import { bounds, toPixels } from "../geometry/page_space.js";
import { levelAcross } from "../geometry/panel_seen.js";
import { movedOnto } from "../geometry/still_placement.js";
import { dragLevel } from "../gestures/drag_level.js";
import { load } from "./desk_load.js";
import { setterOn } from "./set_on_row.js";

const SIDES = ["left", "right"];

/** Where the eye level of a panel crosses its two sides, by dragging or by number; the check takes it as given. */
export function eyeLevelDialog(panel, state) {
  const { known } = state;
  const again = () => load(state, ["panels", "revision", "notes"]);
  const set = setterOn("panels", panel.row, (one) => one.given_perspective);
  openDialog(`The eye level of panel ${panel.order}`, (close) => {
    const finish = (row) => {
      if (!row) return;
      close();
      again();
    };
    const line = levelLine(known.revision, panel, levelAcross(panel, known.revision));
    return form({}, () => set((row) => givePerspective(row, { ...rest(panel), eye_level: line.ends(), revision: known.revision.id }), { onRefusal: again }).then(finish),
      h("p", { class: "hint" }, "Drag an end of the line, or set it in per cent of the panel's height, from the top. The lines of the panel are then measured against it."),
      line.element,
      h("div", { class: "pair" }, ...line.inputs.map((input, i) => field(`At the ${SIDES[i]} side, %`, input))),
      h("div", { class: "buttons" }, h("button", { class: "button first" }, "Take it as the eye level"),
        panel.row.given_perspective && word("Take it back: let the lines show it", () => set(freePerspective, { onRefusal: again }).then(finish))));
  }, { isWide: true });
}

/** What else was set by hand stays, where it lies on this drawing of the panel. */
function rest({ row: { given_perspective: given }, polygon }) {
  const here = (points) => movedOnto(points, given.bounds, polygon);
  return { ...(given?.points && { points: here(given.points) }), ...(given?.parallel_edges && { parallel_edges: given.parallel_edges.map(here) }) };
}

function levelLine(revision, panel, eyeLevel) {
  const size = { width: revision.width_px, height: revision.height_px };
  const [left, top, right, bottom] = bounds(panel.polygon);
  const [x, y, x1, y1] = [...toPixels(size, [left, top]), ...toPixels(size, [right, bottom])];
  const drawn = svg("path", { class: "eye-level" });
  const knobs = SIDES.map(() => svg("circle", { class: "level-end", r: (x1 - x) / 60 }));
  const element = svg("svg", { class: "underlay-preview is-dragged", viewBox: `${x} ${y} ${x1 - x} ${y1 - y}`, role: "img", "aria-label": "The panel with its eye level" },
    svg("image", { href: renditionFor(revision.renditions, 1200)?.url, width: size.width, height: size.height }), svg("g", { class: "underlay-lines" }, drawn, ...knobs));
  const inputs = eyeLevel.map(([, level]) => h("input", { type: "number", step: "0.1", inputmode: "decimal", required: true, value: (((level - top) / (bottom - top)) * 100).toFixed(1) }));
  const ends = () => inputs.map((input, i) => [i ? right : left, top + (Number(input.value) / 100) * (bottom - top)]);
  const show = () => {
    const points = ends().map((point) => toPixels(size, point));
    drawn.setAttribute("d", `M${points.map((point) => point.join(" ")).join("L")}`);
    knobs.forEach((knob, i) => {
      knob.setAttribute("cx", points[i][0]);
      knob.setAttribute("cy", points[i][1]);
    });
  };
  for (const input of inputs) input.addEventListener("input", show);
  dragLevel(element, {
    ends: () => ends().map((point) => toPixels(size, point)),
    onDrag: (end, level) => {
      inputs[end].value = (((level - y) / (y1 - y)) * 100).toFixed(1);
      inputs[end].dispatchEvent(new Event("input", { bubbles: true })); // dragged, it is as good as typed
    },
  });
  show();
  return { element, inputs, ends };
}
