import { h, svg } from "../elements/h.js";
import { whisper } from "../elements/slips.js";
import { registerMark } from "../geometry/crop_marks.js";
import { nudged, spoken } from "../gestures/nudge_region.js";
import { listen } from "../gestures/pan_zoom.js";

const NAMES = ["Upper left", "Upper right", "Lower right", "Lower left"];
const LOUPE_PX = 132;
const LOUPE_TIMES = 2;
const within = (v) => Math.min(1, Math.max(0, v));

/** Four corners over a picture, to drag or to move by keys. @param {HTMLCanvasElement} picture @param {{corners: [number, number][]}} set changed in place @param {() => void} changed */
export function cornersOn(picture, set, changed) {
  const { width, height } = picture;
  const size = Math.max(width, height) / 45;
  const loupe = h("canvas", { class: "corners-loupe", width: LOUPE_PX, height: LOUPE_PX, hidden: true, "aria-hidden": "true" });
  const outline = svg("polygon", { class: "corners-outline" });
  const marks = NAMES.map(() => svg("path", { class: "corners-mark" }));
  const handles = NAMES.map((_, k) => svg("g", { class: "corners-handle", tabindex: "0", role: "button" }, svg("circle", { r: 1.9 * size }), marks[k]));
  const surface = svg("svg", { class: "corners-surface", viewBox: `0 0 ${width} ${height}` }, outline, handles);
  const draw = () => {
    outline.setAttribute("points", set.corners.map(([x, y]) => `${x * width},${y * height}`).join(" "));
    set.corners.forEach(([x, y], k) => {
      handles[k].firstChild.setAttribute("cx", x * width);
      handles[k].firstChild.setAttribute("cy", y * height);
      marks[k].setAttribute("d", registerMark([x * width, y * height], size));
      handles[k].setAttribute("aria-label", `${NAMES[k]} corner, ${spoken({ point: [x, y] })}`);
    });
  };
  const move = (k, point) => {
    set.corners = set.corners.map((one, i) => (i === k ? point.map(within) : one));
    draw();
    changed();
    look(loupe, picture, set.corners[k]);
  };
  handles.forEach((handle, k) => {
    handle.addEventListener("keydown", (event) => {
      const shift = event.shiftKey ? 5 : 1;
      let region = { point: set.corners[k] };
      for (let i = 0; i < shift; i++) region = region && nudged(region, { key: event.key, altKey: event.altKey });
      if (!region) return;
      event.preventDefault();
      move(k, region.point);
      whisper(spoken(region));
    });
    handle.addEventListener("focus", () => look(loupe, picture, set.corners[k]));
    handle.addEventListener("blur", () => { loupe.hidden = true; });
  });
  dragCorners(surface, (point) => nearest(set.corners, point, width / height), (k, point) => { handles[k].focus({ preventScroll: true }); move(k, point); });
  draw();
  return h("div", { class: "corners" }, picture, surface, loupe);
}

/** Wherever one presses, the nearest corner comes along by as much as the finger moves, so that no finger covers it. */
function dragCorners(surface, cornerAt, onMove) {
  let held = null;
  const at = (event) => {
    const box = surface.getBoundingClientRect();
    return [(event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height];
  };
  listen(surface, {
    pointerdown: (event) => {
      if (!event.isPrimary || event.button) return;
      const point = at(event);
      const { k, corner } = cornerAt(point);
      held = { k, off: [corner[0] - point[0], corner[1] - point[1]] };
      surface.setPointerCapture(event.pointerId);
      event.preventDefault();
      onMove(k, corner);
    },
    pointermove: (event) => held && event.isPrimary && onMove(held.k, at(event).map((v, i) => v + held.off[i])),
    pointerup: () => { held = null; },
    pointercancel: () => { held = null; },
  });
}

function nearest(corners, [x, y], aspect) {
  const away = corners.map((one) => Math.hypot((one[0] - x) * aspect, one[1] - y));
  const k = away.indexOf(Math.min(...away));
  return { k, corner: corners[k] };
}

function look(loupe, picture, [x, y]) {
  const pen = loupe.getContext("2d");
  const side = LOUPE_PX / LOUPE_TIMES;
  loupe.hidden = false;
  loupe.classList.toggle("is-right", x < 0.5);
  pen.fillStyle = "gray";
  pen.fillRect(0, 0, LOUPE_PX, LOUPE_PX);
  pen.drawImage(picture, x * picture.width - side / 2, y * picture.height - side / 2, side, side, 0, 0, LOUPE_PX, LOUPE_PX);
  pen.strokeStyle = "#c8483a";
  pen.strokeRect(LOUPE_PX / 2, 0, 0, LOUPE_PX);
  pen.strokeRect(0, LOUPE_PX / 2, LOUPE_PX, 0);
}
