import { bounds, toPage, toPixels } from "../geometry/page_space.js";
import { postLine, viewOfPanel } from "../geometry/panel_view.js";
import { boxAt, perspectiveGrid } from "../geometry/perspective_grid.js";
import { svg } from "./h.js";
import { renditionFor } from "./picture_part.js";

const NAME_SHARE = 0.03; // of the panel's width: the preview is scaled to the dialog

/**
 * The panel with its underlay drawn over it, worked out on the spot; a tap on the floor says where a thing is to stand.
 * @param {{width_px: number, height_px: number, renditions: any[]}} revision
 * @param {{polygon: [number, number][]}} panel
 * @param {object|null} numbers as `panel_seen.js` gives them
 * @param {(point: [number, number]) => void} onFloor gets page coordinates
 */
export function underlayPreview(revision, panel, numbers, onFloor) {
  const size = { width: revision.width_px, height: revision.height_px };
  const polygon = panel.polygon.map((point) => toPixels(size, point));
  const [left, top, right, bottom] = bounds(polygon);
  const drawn = svg("g", { class: "underlay-lines" });
  const element = svg("svg", { class: "underlay-preview", viewBox: `${left} ${top} ${right - left} ${bottom - top}`, role: "img", "aria-label": "The panel with its underlay" },
    svg("image", { href: renditionFor(revision.renditions, 1200)?.url, width: size.width, height: size.height }), drawn);
  element.addEventListener("click", (event) => {
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(element.getScreenCTM().inverse());
    onFloor(toPage(size, [at.x, at.y]));
  });
  return { element, show: (wish) => show(drawn, wish, { numbers, panel, polygon, size }) };
}

/** Draws it and gives back, for each thing on the floor, why it is not there; the empty text where it is. */
function show(drawn, { includes, step, eyeHeightM, things, posts }, { numbers, panel, polygon, size }) {
  const view = viewOfPanel(numbers, panel.polygon, size, eyeHeightM);
  drawn.replaceChildren();
  if ("reason" in view) return things.map(() => view.reason);
  const grid = perspectiveGrid(view, polygon, step ?? (view.isMeasured ? 1 : 0.5), { hasWalls: includes.includes("walls") });
  const put = (kind, segments) => segments.length && drawn.append(svg("path", { class: kind, d: pathOf(segments) }));
  put("wall", grid.walls?.flat() ?? []);
  if (includes.includes("grid")) put("floor", grid.floor?.flat() ?? []);
  if (includes.includes("eye-level")) put("eye-level", grid.eyeLevel ?? []);
  const [left, , right] = bounds(polygon);
  for (const post of includes.includes("guides") ? posts.filter((one) => one.top) : []) {
    put("post", [[post.foot, post.top], ...post.ticks].map((ends) => ends.map((point) => toPixels(size, point))));
    const [x, y] = toPixels(size, post.top);
    drawn.append(svg("text", { x, y, dx: "0.3em", "font-size": (right - left) * NAME_SHARE }, post.name));
  }
  return things.map((thing) => {
    const one = standing(view, toPixels(size, thing.foot), thing);
    if ("reason" in one) return one.reason;
    put("guide", one.edges);
    return "";
  });
}

function standing(view, foot, { kind, width_m, height_m, depth_m, turn_deg }) {
  if (kind !== "post") return boxAt(view, foot, { widthM: width_m, heightM: height_m, depthM: depth_m, turnDeg: turn_deg });
  const post = postLine(view, foot, height_m);
  return "reason" in post ? post : { edges: [post.ends] };
}

const pathOf = (segments) => segments.map((ends) => `M${ends.map((point) => point.map((v) => v.toFixed(1)).join(" ")).join("L")}`).join("");
