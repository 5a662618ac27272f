import { registerMark } from "../geometry/crop_marks.js";
import { spoken } from "../gestures/nudge_region.js";
import { h, svg } from "./h.js";
import { whisper } from "./slips.js";

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const STEP = 0.01; // of the part that is shown
const MARK = 0.014; // of its diagonal

/**
 * A picture, or a part of it, on which two points are set: by click or tap, or by the cross that arrow keys move and Enter sets. Once
 * both are there, the nearer one moves.
 * @param {{name: string, url: string, size: {width: number, height: number}, part: [number, number, number, number], points: [number, number][],
 *   onChange: () => void}} picture `part`: left, top, right, bottom in px; `points` in the picture's own coordinates
 */
export function twoPoints({ name, url, size, part: [left, top, right, bottom], points: known, onChange }) {
  const points = [...known];
  const [wide, high] = [right - left, bottom - top];
  const radius = MARK * Math.hypot(wide, high);
  let cross = [left + wide / 2, top + high / 2];
  const layer = svg("g", {});
  const surface = svg("svg", {
    class: "two-points", viewBox: `${left} ${top} ${wide} ${high}`, tabindex: "0", role: "application",
    "aria-label": `${name}. Arrow keys move the cross, Enter sets a point, Backspace takes the last one off.`,
  }, svg("image", { href: url, width: size.width, height: size.height }), layer);
  const toPx = ([x, y]) => [x * size.width, y * size.height];
  const draw = () => layer.replaceChildren(
    ...points.flatMap((point, i) => {
      const [x, y] = toPx(point);
      const d = registerMark([x, y], radius);
      return [svg("path", { class: "point-under", d }), svg("path", { class: "point-mark", d }),
        svg("text", { class: "point-name", x: x + 1.6 * radius, y: y - 0.8 * radius, "font-size": 2.6 * radius }, String(i + 1))];
    }),
    svg("path", { class: "point-cross", d: `M${cross[0] - 2 * radius} ${cross[1]}h${4 * radius}M${cross[0]} ${cross[1] - 2 * radius}v${4 * radius}` }));
  const changed = () => {
    draw();
    onChange();
  };
  const set = (px) => {
    cross = px;
    const place = [px[0] / size.width, px[1] / size.height].map((v) => Math.min(1, Math.max(0, v)));
    const i = points.length < 2 ? points.length : nearer(points.map(toPx), px);
    points[i] = place;
    whisper(`Point ${i + 1}: ${spoken({ point: place })}`);
    changed();
  };
  surface.addEventListener("click", (event) => {
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(surface.getScreenCTM().inverse());
    if (at.x >= left && at.x <= right && at.y >= top && at.y <= bottom) set([at.x, at.y]);
  });
  surface.addEventListener("keydown", (event) => {
    const way = ARROWS[event.key];
    if (event.key === "Enter") set(cross);
    else if (event.key === "Backspace") {
      points.pop();
      changed();
    } else if (way) {
      const step = STEP * Math.max(wide, high) * (event.shiftKey ? 10 : event.altKey ? 0.1 : 1);
      cross = [Math.min(right, Math.max(left, cross[0] + way[0] * step)), Math.min(bottom, Math.max(top, cross[1] + way[1] * step))];
      draw();
    } else return;
    event.preventDefault();
  });
  draw();
  const clear = () => {
    points.length = 0;
    changed();
  };
  const put = (found) => {
    points.splice(0, 2, ...found);
    changed();
  };
  return { element: h("figure", {}, h("figcaption", { class: "small" }, name), surface), points, clear, put };
}

const nearer = ([a, b], [x, y]) => (Math.hypot(a[0] - x, a[1] - y) <= Math.hypot(b[0] - x, b[1] - y) ? 0 : 1);
