import { affineOf, grown, meshOf } from "../geometry/mesh_warp.js";

/**
 * Draws a picture bent by a map; where its sheet does not reach, the canvas stays clear.
 * @param {HTMLCanvasElement} canvas at its size in px
 * @param {HTMLImageElement} image
 * @param {(point: [number, number]) => [number, number]} map page coordinates of the picture to those of the canvas
 */
export function drawWarped(canvas, image, map) {
  const context = canvas.getContext("2d", { willReadFrequently: true });
  context.clearRect(0, 0, canvas.width, canvas.height);
  for (const triangle of meshOf(map, { width: image.naturalWidth, height: image.naturalHeight }, canvas)) {
    const affine = affineOf(triangle);
    if (!affine) continue;
    context.save();
    context.clip(pathOf(grown(triangle.to)));
    context.setTransform(...affine);
    context.drawImage(image, 0, 0);
    context.restore();
  }
}

/** Draws it as it is, as wide as the canvas. */
export function drawPlain(canvas, image) {
  const context = canvas.getContext("2d", { willReadFrequently: true });
  context.clearRect(0, 0, canvas.width, canvas.height);
  context.drawImage(image, 0, 0, canvas.width, (canvas.width * image.naturalHeight) / image.naturalWidth);
}

function pathOf(corners) {
  const path = new Path2D();
  for (const [x, y] of corners) path.lineTo(x, y);
  path.closePath();
  return path;
}

/** The pixels of a canvas, made smaller to at most this width. */
export function pixelsOf(canvas, mostPx) {
  const width = Math.min(mostPx, canvas.width);
  const small = new OffscreenCanvas(width, Math.max(1, Math.round((canvas.height * width) / canvas.width)));
  const context = small.getContext("2d", { willReadFrequently: true });
  context.imageSmoothingQuality = "high";
  context.drawImage(canvas, 0, 0, small.width, small.height);
  return context.getImageData(0, 0, small.width, small.height);
}
