/** Where the cast stands on one ground line. All in metres; no page, no server. */

const GAP_M = 0.25;
const SHARE_OF_HEIGHT = 0.62; // a figure's slot; arms a little out from the sides
const BEYOND_THE_ARMS = 0.06; // of the height: half the breadth of a hand
const HEAD_ROOM_M = 0.2;
const RULE_M = 0.5;

/** @param {{height_m: number|null}[]} cast @returns tallest last; who has no height stands nowhere */
export function layOut(cast) {
  const standing = cast.filter((one) => one.height_m).sort((a, b) => a.height_m - b.height_m);
  const places = [];
  let at = GAP_M;
  for (const character of standing) {
    const wide = SHARE_OF_HEIGHT * character.height_m;
    places.push({ character, x_m: at + wide / 2, wide_m: wide });
    at += wide + GAP_M;
  }
  const high = Math.max(0.5, ...standing.map((one) => one.height_m)) + HEAD_ROOM_M;
  return { places, wide_m: Math.max(1, at), high_m: high, rules_m: rulesUpTo(high) };
}

function rulesUpTo(high) {
  const step = high > 8 ? 2 * RULE_M * Math.ceil(high / 8) : RULE_M;
  return Array.from({ length: Math.floor(high / step) }, (_, k) => (k + 1) * step);
}

/** Heights of head ticks, from the crown down: the whole heads that a figure holds. */
export const headTicks = (heightM, heads) =>
  heads ? Array.from({ length: Math.floor(heads - 1e-9) }, (_, k) => heightM * (1 - (k + 1) / heads)) : [];

/**
 * The part of a model sheet that shows the figure, and its scale. Crown and soles are put on one upright.
 * @returns {{part: [number, number, number, number], px_per_m: number, sole_px: [number, number]}|null} px of the picture
 */
export function partOfSheet({ landmarks }, { width_px: width, height_px: height }, heightM) {
  const sole = landmarks.sole ?? middle([landmarks["sole-left"], landmarks["sole-right"]]);
  if (!landmarks.crown || !sole) return null;
  const crownPx = [landmarks.crown[0] * width, landmarks.crown[1] * height];
  const solePx = [sole[0] * width, sole[1] * height];
  const tallPx = Math.hypot(crownPx[0] - solePx[0], crownPx[1] - solePx[1]);
  if (!tallPx) return null;
  const x = (crownPx[0] + solePx[0]) / 2;
  const half = halfWidthPx(landmarks, width, x, tallPx);
  return { part: [x - half, solePx[1] - 1.1 * tallPx, 2 * half, 1.14 * tallPx], px_per_m: tallPx / heightM, sole_px: solePx };
}

/** As far as the arms were marked, and half a hand more: beside it on the sheet the next view may stand. */
function halfWidthPx(landmarks, width, x, tallPx) {
  const widest = (SHARE_OF_HEIGHT / 2) * tallPx;
  const arms = ["wrist", "fingertip"].flatMap((name) => [landmarks[name], landmarks[`${name}-left`], landmarks[`${name}-right`]]).filter(Boolean);
  if (arms.length < 2) return widest;
  return Math.min(widest, Math.max(...arms.map(([at]) => Math.abs(at * width - x))) + BEYOND_THE_ARMS * tallPx);
}

const middle = ([a, b]) => (a && b ? [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] : (a ?? b ?? null));
