import { layOutHeads } from "../geometry/heads_chart.js";
import { h, svg } from "./h.js";

const [WIDE, HIGH] = [560, 220];
const [LEFT, RIGHT, TOP, FOOT] = [52, 132, 12, 36];

/** Heads over pages: a bar for what each figure may measure, a line for the model sheet; and the same in words. */
export function headsChart({ name, heads_by_page: heads, head_count: onSheet }) {
  const laid = layOutHeads(heads, onSheet);
  if (!laid) return h("p", { class: "quiet" }, "No head count of this character was measured on a page yet. Crown, chin and soles of a figure have to be marked.");
  const x = (share) => LEFT + share * (WIDE - LEFT - RIGHT);
  const y = (share) => TOP + share * (HIGH - TOP - FOOT);
  const words = laid.points.map(({ page, heads: value }) => `page ${page}: ${value.toFixed(1)}`).join(", ");
  const drawing = svg("svg", { class: "heads-chart", viewBox: `0 0 ${WIDE} ${HIGH}`, role: "img", "aria-label": `Heads of ${name} by page. ${words}${onSheet ? `. On the sheet: ${onSheet.toFixed(1)}` : ""}` },
    laid.ticks.map((tick) => [line("chart-rule", x(0), y(tick.y), x(1), y(tick.y)), svg("text", { class: "chart-number is-left", x: LEFT - 10, y: y(tick.y) }, String(tick.heads))]),
    laid.sheet !== null && [line("chart-sheet", x(0), y(laid.sheet), x(1), y(laid.sheet)), svg("text", { class: "chart-number is-right", x: x(1) + 12, y: y(laid.sheet) }, `sheet ${onSheet.toFixed(1)}`)],
    laid.points.map((point) => [line("chart-doubt", x(point.x), y(point.low), x(point.x), y(point.high)), line("chart-value", x(point.x) - 6, y(point.y), x(point.x) + 6, y(point.y))]),
    laid.pages.map((page) => svg("text", { class: "chart-number", x: x(laid.points.find((point) => point.page === page).x), y: HIGH - 8 }, String(page))));
  return h("figure", {}, drawing, h("figcaption", { class: "small quiet" }, "Heads by page. Each upright reaches as far as the measure may be off", laid.sheet !== null && "; the dashed line is the model sheet", "."));
}

const line = (kind, x0, y0, x1, y1) => svg("path", { class: kind, d: `M${x0.toFixed(1)} ${y0.toFixed(1)}L${x1.toFixed(1)} ${y1.toFixed(1)}` });
