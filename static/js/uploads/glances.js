import { renditionFor } from "../elements/picture_part.js";
import { GRID, alikePairs, glanceOf } from "./likeness.js";

const ASIDE_PX = 160;
const PAGES_AT_ONCE = 6;

/**
 * A chosen file, small: on a canvas to look at, and as a glance. Null where the browser does not read its format (TIFF, OpenRaster).
 * @param {File} file @returns {Promise<{canvas: HTMLCanvasElement, glance: import("./likeness.js").Glance|null}|null>}
 */
export async function lookAtFile(file) {
  try {
    const whole = await createImageBitmap(file);
    const canvas = drawnSmall(whole, Math.round(ASIDE_PX * Math.min(1.6, whole.width / whole.height)));
    const glance = glanceOfPicture(whole);
    whole.close();
    return { canvas, glance };
  } catch {
    return null;
  }
}

function drawnSmall(picture, width) {
  const canvas = document.createElement("canvas");
  canvas.width = width;
  canvas.height = Math.max(1, Math.round((width * picture.height) / picture.width));
  const pen = canvas.getContext("2d");
  pen.imageSmoothingQuality = "high";
  pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
  return canvas;
}

/** Ink per cell: halved by the browser down to twice the grid, then averaged. */
export function glanceOfPicture(picture) {
  const side = 4 * GRID;
  const canvas = document.createElement("canvas");
  canvas.width = canvas.height = side;
  const pen = canvas.getContext("2d", { willReadFrequently: true });
  pen.fillStyle = "white";
  pen.fillRect(0, 0, side, side);
  pen.imageSmoothingQuality = "high";
  pen.drawImage(picture, 0, 0, side, side);
  const { data } = pen.getImageData(0, 0, side, side);
  const gray = new Float32Array(GRID * GRID);
  for (let i = 0; i < side * side; i++) {
    const cell = Math.floor(Math.floor(i / side) / 4) * GRID + Math.floor((i % side) / 4);
    gray[cell] += (0.299 * data[4 * i] + 0.587 * data[4 * i + 1] + 0.114 * data[4 * i + 2]) / 16;
  }
  return glanceOf(gray, picture.width / picture.height);
}

/** The glance of a page's picture as it stands. */
async function glanceOfPage(page) {
  const rendition = renditionFor(page.current_revision?.renditions, 0);
  if (!rendition) return null;
  try {
    const picture = await createImageBitmap(await (await fetch(rendition.url, { credentials: "same-origin" })).blob());
    return glanceOfPicture(picture);
  } catch {
    return null;
  }
}

/**
 * Files whose names say nothing, matched by their looks to pages that no other file is for.
 * @param {import("./matching.js").Match[]} matches @param {(import("./likeness.js").Glance|null)[]} glances of the files
 * @returns {Promise<import("./matching.js").Match[]>}
 */
export async function matchByLikeness(matches, glances, pages) {
  const open = matches.map((_, i) => i).filter((i) => matches[i].how === "none" && glances[i]);
  const taken = new Set(matches.filter(({ how }) => how !== "same").flatMap(({ numbers }) => numbers ?? []));
  const free = pages.filter((page) => page.current_revision && !page.numbers.some((number) => taken.has(number)));
  if (!open.length || !free.length) return matches;
  const looks = await inTurn(free, glanceOfPage, PAGES_AT_ONCE);
  const pairs = alikePairs(open.map((i) => glances[i]), looks);
  return matches.map((match, i) => {
    const pair = pairs[open.indexOf(i)];
    return pair ? { ...match, numbers: free[pair.page].numbers, how: "likeness" } : match;
  });
}

/** Does it for all of them, so many at a time, and keeps their order. */
export async function inTurn(things, does, atOnce) {
  const results = new Array(things.length);
  let next = 0;
  const work = async () => {
    while (next < things.length) {
      const i = next++;
      results[i] = await does(things[i]);
    }
  };
  await Promise.all(Array.from({ length: atOnce }, work));
  return results;
}
