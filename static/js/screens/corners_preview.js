import { h } from "../elements/h.js";
import { fromFlat, ratioOfFlat } from "../geometry/flat_page.js";
import { goesRound } from "../uploads/paper_corners.js";

const LONGEST_PX = 460;

/** The page as it will lie flat, drawn anew with each move of a corner. @param {HTMLCanvasElement} photo @param {{corners: [number, number][]}} set */
export function flatPreview(photo, set) {
  const canvas = h("canvas", { class: "corners-flat", role: "img", "aria-label": "The page laid flat" });
  const words = h("figcaption", { class: "small quiet" });
  const seen = photo.getContext("2d").getImageData(0, 0, photo.width, photo.height);
  const waits = { isAsked: false };
  const draw = () => {
    waits.isAsked = false;
    const isWhole = goesRound(set.corners);
    words.textContent = isWhole ? "So it will lie flat." : "The corners cross each other: put each on its own corner of the paper.";
    canvas.hidden = !isWhole;
    if (isWhole) drawFlat(canvas, seen, set.corners);
  };
  draw();
  const later = () => {
    if (!waits.isAsked) requestAnimationFrame(draw);
    waits.isAsked = true;
  };
  return { element: h("figure", { class: "corners-preview" }, canvas, words), later };
}

function drawFlat(canvas, photo, corners) {
  const ratio = ratioOfFlat(corners, photo);
  [canvas.width, canvas.height] = (ratio < 1 ? [ratio, 1] : [1, 1 / ratio]).map((share) => Math.max(1, Math.round(share * LONGEST_PX)));
  const pen = canvas.getContext("2d");
  const flat = pen.createImageData(canvas.width, canvas.height);
  const [from, to] = [new Uint32Array(photo.data.buffer), new Uint32Array(flat.data.buffer)];
  const map = fromFlat(corners);
  for (let y = 0; y < canvas.height; y++)
    for (let x = 0; x < canvas.width; x++) {
      const [u, v] = map([(x + 0.5) / canvas.width, (y + 0.5) / canvas.height]);
      const [column, row] = [Math.min(photo.width - 1, Math.floor(u * photo.width)), Math.min(photo.height - 1, Math.floor(v * photo.height))];
      to[y * canvas.width + x] = from[row * photo.width + column];
    }
  pen.putImageData(flat, 0, 0);
}
