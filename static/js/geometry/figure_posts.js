/**
 * How tall something of a given height stands at a floor point. The twin of `board/figure_posts.py`, where the method is told;
 * both are run over one table of vectors. Px, y down. What cannot be told is `{reason}`.
 *
 * @typedef {[number, number]} Point
 * @typedef {{horizon: number[], eyeHeightM: number, upright: number[]|null}} PostView
 */
import { dot } from "./vectors.js";
import { pointingDown } from "./view_of_points.js";

const PARALLEL = 1e-12;
const LEAST_PX = 1e-6;
const TICK_SHARE = 0.35;

/** `heightM` over the foot is seen at (foot + heightM · rise) / (1 + heightM · turn). */
class Upright {
  constructor(foot, rise, turn) {
    Object.assign(this, { foot, rise, turn });
  }

  /** @returns {Point|null} null where that height is beside or behind the viewer */
  at(heightM) {
    const depth = 1 + heightM * this.turn;
    return depth <= PARALLEL ? null : this.foot.map((v, i) => (v + heightM * this.rise[i]) / depth);
  }

  /** The height seen nearest to `point`, along the upright; null past its end, or where it is seen as a point. */
  heightM(point) {
    const step = this.rise.map((v, i) => v - this.turn * this.foot[i]);
    const length = Math.hypot(...step);
    if (length < LEAST_PX) return null;
    const along = ((point[0] - this.foot[0]) * step[0] + (point[1] - this.foot[1]) * step[1]) / length;
    const left = length - along * this.turn;
    return left > PARALLEL * length ? along / left : null;
  }
}

/** @param {Point} foot @param {PostView} view @param {number} floorM that floor over the ground */
export function uprightOver(foot, view, floorM = 0) {
  const horizon = pointingDown(view.horizon);
  const eyeM = view.eyeHeightM - floorM;
  if (!horizon || ![...foot, ...(view.upright ?? []), eyeM].every(Number.isFinite)) return { reason: "The eye level is not known, or runs up the picture." };
  const below = dot(horizon, [...foot, 1]);
  const reason = whyUnseen(below, eyeM);
  if (reason) return { reason };
  if (!view.upright) return new Upright(foot, [(-horizon[0] * below) / eyeM, (-horizon[1] * below) / eyeM], 0);
  const meeting = dot(horizon, view.upright);
  if (Math.abs(meeting) <= PARALLEL * Math.hypot(...view.upright)) return { reason: "The uprights meet on the eye level: no height can be told." };
  const [x, y, w] = view.upright.map((v) => (v * -below) / meeting / eyeM);
  return new Upright(foot, [x, y], w);
}

function whyUnseen(belowPx, eyeM) {
  if (eyeM === 0) return "The floor is as high as the viewer's eye: it is seen as a line, and sizes cannot be told.";
  if (Math.abs(belowPx) < LEAST_PX) return "This point lies on the eye level: how far away it is cannot be told.";
  if (belowPx * eyeM > 0) return "";
  if (eyeM > 0) return "This point lies above the eye level: the floor is not seen there.";
  return "This point lies below the eye level: a floor over the viewer's eye is not seen there.";
}

/** A post of `heightM` on the floor point `foot`, with a tick for each whole head below its top. */
export function postAt(foot, heightM, view, { heads = null, floorM = 0 } = {}) {
  if (!(Number.isFinite(heightM) && heightM > 0)) return { reason: "A post needs a height." };
  const upright = uprightOver(foot, view, floorM);
  if ("reason" in upright) return upright;
  const top = upright.at(heightM);
  if (!top) return { reason: "A post of this height would reach past the viewer." };
  if (Math.hypot(top[0] - foot[0], top[1] - foot[1]) < LEAST_PX) return { reason: "The viewer looks along this post: it is seen as a point." };
  return { foot, top, ticks: heads > 0 ? ticksOf(upright, heightM, heads) : [] };
}

/** Metres from the floor point up to `top`: the inverse of `postAt`; a top beside the upright counts by its level. */
export function heightAt(foot, top, view, floorM = 0) {
  const upright = uprightOver(foot, view, floorM);
  if ("reason" in upright) return upright;
  return upright.heightM(top) ?? { reason: "The top lies past the point where uprights meet, or the viewer looks along the upright." };
}

function ticksOf(upright, heightM, heads) {
  const ticks = [];
  for (let number = 1; number <= Math.floor(heads - 1e-9); number += 1) {
    const levelM = heightM - (number * heightM) / heads;
    const [middle, above] = [upright.at(levelM), upright.at(levelM + heightM / heads)];
    if (!middle || !above) break;
    const across = [(middle[1] - above[1]) * TICK_SHARE, (above[0] - middle[0]) * TICK_SHARE];
    ticks.push({ number, middle, ends: [middle.map((v, i) => v - across[i]), middle.map((v, i) => v + across[i])] });
  }
  return ticks;
}
