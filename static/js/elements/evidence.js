import { arrowHead, clipLine } from "../geometry/clip_line.js";
import { outline, registerMark } from "../geometry/crop_marks.js";
import { labelsApart } from "../geometry/labels_apart.js";
import { svg } from "./h.js";

const LABEL_INSET_PX = 14;

/**
 * A finding's own drawing: the lines it used, the point they should meet in, the eye level. What lies off the table is cut at its edge
 * with an arrow that points on.
 * @param {{kind: string, points: [number, number][], label?: string}[]} marks page coordinates
 * @param {(point: [number, number]) => [number, number]} toScreen
 * @param {[number, number, number, number]} box left, top, right, bottom of the table, px
 */
export function drawEvidence(marks, toScreen, box) {
  const drawn = (marks ?? []).flatMap((mark) => {
    const points = mark.points.map(toScreen);
    const draw = { 1: drawPoint, 2: drawLine }[points.length] ?? drawOutline;
    return draw(mark, points, box).filter(Boolean);
  });
  const labels = drawn.filter((one) => one.text);
  const places = labelsApart(labels, box);
  return [...drawn.filter((one) => !one.text), ...labels.map(({ text }, k) => svg("text", { class: "mark-label", x: tenth(places[k][0]), y: tenth(places[k][1]) }, text))];
}

const stroke = (kind, d) => svg("path", { class: `mark mark-${kind}`, d });

function drawOutline({ kind, label }, points) {
  return [stroke(kind, outline(points)), labelAt(label, points[0])];
}

function drawPoint({ kind, label }, [point], box) {
  const [left, top, right, bottom] = box;
  const isInside = point[0] >= left && point[0] <= right && point[1] >= top && point[1] <= bottom;
  if (isInside) return [stroke(kind, registerMark(point, 7)), labelAt(label, point)];
  const centre = [(left + right) / 2, (top + bottom) / 2];
  const cut = clipLine(centre, point, inset(box, LABEL_INSET_PX));
  return cut ? [stroke(kind, arrowHead(centre, cut.to, 12)), labelAt(label, cut.to)] : [];
}

function drawLine({ kind, label }, [from, to], box) {
  const cut = clipLine(from, to, inset(box, 2));
  if (!cut) return [];
  const d = [`M${cut.from.map(tenth).join(" ")}L${cut.to.map(tenth).join(" ")}`];
  if (cut.toIsCut) d.push(arrowHead(cut.from, cut.to));
  if (cut.fromIsCut) d.push(arrowHead(cut.to, cut.from));
  const beside = [(cut.from[0] + cut.to[0]) / 2, (cut.from[1] + cut.to[1]) / 2];
  return [stroke(kind, d.join("")), labelAt(label, beside)];
}

/** Drawn when all are known, so that none is printed over another. */
const labelAt = (label, [x, y]) => (label ? { text: label, at: [x + 6, y - 6] } : null);

const inset = ([left, top, right, bottom], by) => [left + by, top + by, right - by, bottom - by];
const tenth = (v) => Math.round(v * 10) / 10;
