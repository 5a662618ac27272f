/**
 * What was written in two windows at once, put together: no word of either is lost.
 * @typedef {{kind: string, body: string, why: string, how: string, page: number|null, region: any, criterion: number|null}} Point
 */

/**
 * What was changed there alone takes the place of what it was here; what was changed on both sides, or is new there, comes after.
 * @param {Point[]} before as both had it @param {Point[]} here @param {Point[]} there
 * @returns {{points: Point[], came: number}} `came`: how many points are of there
 */
export function together(before, here, there) {
  const points = [...here];
  let came = 0;
  there.forEach((point, place) => {
    if (!hasWords(point) || before.some((one) => isSame(one, point)) || points.some((one) => isSame(one, point))) return;
    came += 1;
    const [now, was] = [points[place], before[place]];
    const isUntouched = now?.kind === point.kind && (was ? isSame(now, was) : !hasWords(now));
    if (isUntouched) points[place] = point;
    else points.push(point);
  });
  return { points, came };
}

/** @param {Point[]} some @param {Point[]} others */
export const areSame = (some, others) => some.length === others.length && some.every((point, place) => isSame(point, others[place]));

/** Points with words that are not there as they are here. @param {Point[]} here @param {Point[]} there */
export const wordsApart = (here, there) => here.filter((point) => hasWords(point) && !there.some((one) => isSame(one, point)));

/** @param {Point} point */
export const hasWords = ({ body, why, how }) => Boolean(`${body}${why}${how}`.trim());

/** The server takes the blanks away around what it keeps. */
const plain = ({ kind, body, why, how, page, region, criterion }) => JSON.stringify([kind, body.trim(), why.trim(), how.trim(), page, region, criterion]);
const isSame = (one, other) => plain(one) === plain(other);
