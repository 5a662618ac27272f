/**
 * Floor and walls in even steps, lines to each vanishing point, boxes of real size on the floor. The twin of
 * `board/perspective_grid.py`, where the method is told; both are run over one table of vectors. Px, y down.
 */
import { clipToPolygon, clipToSide } from "./clip_polygon.js";
import { cross, dot, scaled, sum, unitLine } from "./vectors.js";

const LEAST_GAP_PX = 3;
const ON_IT_PX = 1e-4;
const MOST_LINES = 200;
const FACED = 0.05;
const NEAREST = 1e-3;
const SIDES = [[0, 1], [1, 2], [2, 3], [3, 0], [4, 5], [5, 6], [6, 7], [7, 4], [0, 4], [1, 5], [2, 6], [3, 7]];

/** `step` in metres where the view is measured, else in eye heights. */
export function perspectiveGrid(view, polygon, step, { hasWalls = true } = {}) {
  if (!(Number.isFinite(step) && step > 0)) return { reason: "A grid needs a step." };
  const eyeLevel = clipToPolygon(view.horizon, polygon);
  const onFloor = polygon.filter((corner) => below(view, corner) > LEAST_GAP_PX);
  const offLevel = onFloor.length ? onFloor : polygon.filter((corner) => below(view, corner) < -LEAST_GAP_PX);
  const floor = onFloor.length ? floorOf(view, polygon, onFloor, step) : [];
  return { eyeLevel, floor, walls: hasWalls && offLevel.length ? wallsOf(view, polygon, offLevel, scaled(view.down, onFloor.length ? -1 : 1), step) : [], step };
}

const below = (view, point) => dot(view.horizon, [...point, 1]);
const most = (points, value) => points.reduce((best, point) => (value(point) > value(best) ? point : best));

function floorOf(view, polygon, corners, step) {
  const low = most(corners, (corner) => below(view, corner));
  const [a, b, c] = view.horizon;
  const haze = [a, b, c - hazePx(view, below(view, low), view.eyeHeight, step)];
  return pencilsOf(view, low, view.level[0], view.level[1], step).map((pencil) => clipPencil(pencil, polygon, haze));
}

const hazePx = (view, nearestPx, distance, step) => Math.min(Math.sqrt((LEAST_GAP_PX * view.focalPx * distance) / step), 0.4 * nearestPx);

/** Of the plane through a point of floor or ceiling: the lines along `s`, one for each step of `t`, and those along `t`. */
function pencilsOf(view, origin, s, t, step) {
  const [o, alongS, alongT] = [view.onLevel(origin), s, t].map((vector) => view.seen(vector));
  return [[cross(o, alongS), scaled(cross(alongT, alongS), step)], [cross(o, alongT), scaled(cross(alongS, alongT), step)]];
}

function wallsOf(view, polygon, corners, fromFoot, step) {
  const least = FACED * diagonalOf(polygon);
  const walls = view.level.flatMap((direction) => {
    const edge = unitLine(cross(view.seen(direction), view.upright));
    if (!edge || direction[2] < NEAREST) return [];
    return [1, -1].flatMap((side) => {
      const facing = scaled(edge, side);
      const corner = most(corners, (point) => dot(facing, [...point, 1]));
      if (dot(facing, [...corner, 1]) < least) return [];
      const distance = Math.abs(dot(cross(direction, view.down), view.onLevel(corner)));
      const haze = [facing[0], facing[1], facing[2] - hazePx(view, dot(facing, [...corner, 1]), distance, step)];
      const pencils = pencilsOf(view, corner, direction, fromFoot, step);
      const [[foot]] = pencils;
      const above = justBefore(scaled(foot, dot(foot, view.seen(fromFoot)) > 0 ? 1 : -1));
      return pencils.map((pencil) => clipPencil(pencil, polygon, haze, above));
    });
  });
  return walls.filter((pencil) => pencil.length);
}

/** The side of a line, with the line itself. */
function justBefore(line) {
  const [a, b, c] = unitLine(line) ?? line;
  return [a, b, c + ON_IT_PX];
}

/** What is seen of base + k · step, k = 0, ±1, …, inside the polygon and where all `sides` are positive. */
export function clipPencil([base, step], polygon, ...sides) {
  const lineAt = (k) => base.map((v, i) => v + k * step[i]);
  const clipAt = (k) => clipToPolygon(lineAt(k), polygon).map((segment) => sides.reduce((kept, side) => kept && clipToSide(kept, side), segment)).filter(Boolean);
  const found = clipAt(0);
  for (const turn of [1, -1])
    for (let k = turn; Math.abs(k) <= MOST_LINES; k += turn) {
      const segments = clipAt(k);
      const before = unitLine(lineAt(k - turn));
      if (segments.length && before && Math.max(...segments.flat().map((end) => Math.abs(dot(before, [...end, 1])))) < LEAST_GAP_PX) break;
      found.push(...segments);
    }
  return found;
}

/** A box on the floor point `foot`, the middle of its front edge; `turnDeg` + turns it to the right. */
export function boxAt(view, foot, { widthM, heightM, depthM = 0, turnDeg = 0 }) {
  if (![widthM, heightM, depthM, turnDeg].every(Number.isFinite) || widthM <= 0 || heightM <= 0 || depthM < 0)
    return { reason: "A box needs a width and a height." };
  if (!view.isMeasured)
    return { reason: "How high the viewer's eye is has to be known before a thing of real size can be drawn." };
  const at = view.floorAt(foot);
  if ("reason" in at) return at;
  const spots = boxCorners(view, at, { widthM, heightM, depthM, turn: (turnDeg * Math.PI) / 180 });
  if (spots.some((spot) => spot[2] < NEAREST * view.eyeHeight)) return { reason: "A box of this size would reach past the viewer." };
  const corners = spots.map((spot) => view.seen(spot)).map(([x, y, w]) => [x / w, y / w]);
  return { corners, edges: SIDES.map(([a, b]) => [corners[a], corners[b]]) };
}

function boxCorners(view, at, { widthM, heightM, depthM, turn }) {
  const ahead = view.level[0];
  const right = cross(view.down, ahead);
  const into = sum(scaled(ahead, Math.cos(turn)), scaled(right, Math.sin(turn)));
  const across = sum(scaled(right, Math.cos(turn)), scaled(ahead, -Math.sin(turn)));
  const around = [[-widthM / 2, 0], [widthM / 2, 0], [widthM / 2, depthM], [-widthM / 2, depthM]];
  return [0, heightM].flatMap((up) => around.map(([side, back]) => sum(at, scaled(across, side), scaled(into, back), scaled(view.down, -up))));
}

const diagonalOf = (polygon) => Math.hypot(...[0, 1].map((axis) => Math.max(...polygon.map((p) => p[axis])) - Math.min(...polygon.map((p) => p[axis]))));
