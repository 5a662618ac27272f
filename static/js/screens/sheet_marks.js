import { choice, field } from "../elements/field.js";
import { button, h, svg } from "../elements/h.js";
import { whisper } from "../elements/slips.js";
import { registerMark } from "../geometry/crop_marks.js";
import { spoken } from "../gestures/nudge_region.js";
import { FURTHER } from "./figures_mark_model.js";

const NAMES = [["crown", "Crown"], ["sole", "Soles"], ...FURTHER];
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const STEP = 0.005;

/** A sheet with its landmarks: choose one, then click or tap where it is, or move the cross by arrow keys and press Enter. */
export function sheetMarks({ url, width_px: width, height_px: height }, known) {
  const marks = { ...known };
  let cross = [0.5, 0.5];
  const which = choice(NAMES, NAMES.find(([name]) => !marks[name])?.[0] ?? "crown");
  const layer = svg("g", {});
  const size = Math.max(width, height) / 90;
  const surface = svg("svg", { class: "sheet-marks", viewBox: `0 0 ${width} ${height}`, tabindex: "0", role: "application",
    "aria-label": "The sheet. Arrow keys move the cross, Enter sets the landmark." }, svg("image", { href: url, width, height }), layer);
  const at = ([x, y]) => [x * width, y * height];
  const draw = () => layer.replaceChildren(
    ...Object.entries(marks).flatMap(([name, point]) => {
      const [x, y] = at(point);
      return [svg("path", { class: "figure-end", d: registerMark([x, y], size) }),
        svg("text", { x: x + size, y, "font-size": 2 * size }, NAMES.find(([one]) => one === name)?.[1] ?? name)];
    }),
    svg("path", { class: "figure-cross", d: registerMark(at(cross), 1.6 * size) }));
  const set = (point) => {
    cross = point;
    marks[which.value] = point;
    whisper(`${which.selectedOptions[0].textContent}: ${spoken({ point })}`);
    const next = NAMES.find(([name]) => !marks[name]);
    if (next) which.value = next[0];
    draw();
  };
  surface.addEventListener("click", (event) => {
    // The picture lies in the middle of its frame, which may be wider.
    const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(surface.getScreenCTM().inverse());
    set([x / width, y / height].map(within));
  });
  surface.addEventListener("keydown", (event) => {
    const way = ARROWS[event.key];
    if (event.key === "Enter") set(cross);
    else if (!way) return;
    else cross = cross.map((v, i) => within(v + way[i] * STEP * (event.shiftKey ? 10 : event.altKey ? 0.2 : 1)));
    event.preventDefault();
    draw();
  });
  draw();
  const clear = button("Take it off", () => { delete marks[which.value]; draw(); });
  return { element: h("div", { class: "stack" }, field("Landmark", which, "Left and right are the figure's own."), h("div", { class: "buttons" }, clear), surface), landmarks: () => marks };
}

const within = (v) => Math.min(1, Math.max(0, v));
