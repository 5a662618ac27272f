import { headTicks, layOut, partOfSheet } from "../geometry/line_up.js";
import { renditionFor } from "./picture_part.js";
import { svg } from "./h.js";

const PX_PER_M = 220;
const ABOVE_PX = 16; // half of what is written at the topmost rule
const BELOW_PX = 46;
const LEFT_PX = 60;
const TICK_PX = 14;

/** The cast on one ground line, with a rule at each half metre and a tick for each head. */
export function lineUpRow(cast) {
  const { places, wide_m: wide, high_m: high, rules_m: rules } = layOut(cast);
  const size = [LEFT_PX + wide * PX_PER_M, ABOVE_PX + high * PX_PER_M + BELOW_PX];
  const y = (heightM) => ABOVE_PX + (high - heightM) * PX_PER_M;
  const rule = (heightM, kind) => svg("path", { class: kind, d: `M${LEFT_PX} ${y(heightM)}H${size[0]}` });
  return svg("svg", { class: "line-up-drawing", viewBox: `0 0 ${size[0].toFixed(0)} ${size[1].toFixed(0)}`, width: size[0].toFixed(0), height: size[1].toFixed(0),
    role: "img", "aria-label": `From the smallest to the tallest: ${places.map(({ character }) => `${character.name} ${character.height_m} m`).join(", ")}` },
    rules.map((heightM) => [rule(heightM, "rule"), svg("text", { class: "rule-height", x: LEFT_PX - 8, y: y(heightM) }, `${heightM} m`)]),
    rule(0, "ground"),
    places.flatMap((place) => drawFigure(place, LEFT_PX + place.x_m * PX_PER_M, y)));
}

function drawFigure({ character, wide_m: wide }, x, y) {
  const { name, height_m: height, head_count: heads } = character;
  const sheet = drawSheet(character, x, y(0));
  // Beside the figure; where none is drawn, over its name.
  const left = sheet ? x - (wide * PX_PER_M) / 2 : x;
  const ticks = headTicks(height, heads).map((at) => svg("path", { class: "head-tick", d: `M${left - TICK_PX / 2} ${y(at)}h${TICK_PX}` }));
  return [
    sheet,
    svg("path", { class: "height-post", d: `M${left} ${y(0)}V${y(height)}` }),
    svg("path", { class: "height-post", d: `M${left - TICK_PX} ${y(height)}h${2 * TICK_PX}` }), ...ticks,
    svg("text", { class: "cast-name", x, y: y(0) + 20 }, name),
    svg("text", { class: "cast-numbers", x, y: y(0) + 38 }, `${height} m${heads ? `, ${heads.toFixed(1)} heads` : ""}`),
  ];
}

/** Cut out of the newest front view; without one, the post alone stands there. */
function drawSheet({ sheets, height_m: height }, x, ground) {
  const sheet = [...sheets].reverse().find((one) => one.view === "front" && one.landmarks.crown);
  const rendition = sheet && renditionFor(sheet.reference.renditions, 1200);
  const cut = rendition && partOfSheet(sheet, rendition, height);
  if (!cut) return null;
  const [px, py, wide, high] = cut.part;
  const scale = PX_PER_M / cut.px_per_m;
  return svg("svg", { x: x - (wide * scale) / 2, y: ground - (cut.sole_px[1] - py) * scale, width: wide * scale, height: high * scale, viewBox: `${px} ${py} ${wide} ${high}` },
    svg("image", { href: rendition.url, width: rendition.width_px, height: rendition.height_px, class: "sheet-figure" }));
}
