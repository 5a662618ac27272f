import { arrowHead, clipLine } from "../geometry/clip_line.js";
import { outline, registerMark } from "../geometry/crop_marks.js";
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
  return (marks ?? []).flatMap((mark) => {
    const points = mark.points.map(toScreen);
    const draw = { 1: drawPoint, 2: drawLine }[points.length] ?? drawOutline;
    return draw(mark, points, box);
  });
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

function labelAt(label, [x, y]) {
  return label ? svg("text", { class: "mark-label", x: tenth(x + 6), y: tenth(y - 6) }, label) : null;
}

const inset = ([left, top, right, bottom], by) => [left + by, top + by, right - by, bottom - by];
const tenth = (v) => Math.round(v * 10) / 10;
