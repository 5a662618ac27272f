import { openDialog } from "../elements/dialog.js";
import { button, h } from "../elements/h.js";
import { say } from "../elements/slips.js";
import { goesRound, paperCorners } from "../uploads/paper_corners.js";
import { cornersOn } from "./corners_handles.js";
import { flatPreview } from "./corners_preview.js";

const SHOWN_PX = 1400;
const GUESSED_ON_PX = 160;
const INSET = [[0.08, 0.08], [0.92, 0.08], [0.92, 0.92], [0.08, 0.92]];

/**
 * A photographed page: its four corners are set by hand, by dragging or by arrow keys, and the server lays it flat.
 * @param {File} file @param {[number, number][]|null} known @param {(corners: [number, number][]|null) => void} done
 */
export async function cornersDialog(file, known, done) {
  const photo = await createImageBitmap(file).catch(() => null);
  if (!photo) return say("This browser cannot show this kind of file. Save the photograph as JPEG or PNG.", { isFault: true });
  const picture = drawn(photo, SHOWN_PX);
  const set = { corners: known ?? guess(photo) ?? INSET };
  const preview = flatPreview(picture, set);
  return openDialog("Lay a photographed page flat", (close) => [
    h("p", {}, "Put the four corners on the corners of the paper: drag them, or choose one by Tab and move it by arrow keys (Shift for long steps, Alt for short ones). The photograph itself is kept."),
    h("div", { class: "corners-both" }, cornersOn(picture, set, preview.later), preview.element),
    h("div", { class: "buttons" },
      button("Lay it flat", () => {
        if (!goesRound(set.corners)) return say("The corners cross each other. Put each on its own corner of the paper.", { isFault: true });
        close();
        return done(set.corners);
      }, { class: "button first" }),
      button("Leave it as it is", () => { close(); done(null); }))], { isWide: true, onClose: () => photo.close() });
}

function drawn(photo, longestPx) {
  const scale = Math.min(1, longestPx / Math.max(photo.width, photo.height));
  const canvas = h("canvas", { class: "corners-picture", width: Math.round(photo.width * scale), height: Math.round(photo.height * scale) });
  const pen = canvas.getContext("2d", { willReadFrequently: true });
  pen.imageSmoothingQuality = "high";
  pen.drawImage(photo, 0, 0, canvas.width, canvas.height);
  return canvas;
}

function guess(photo) {
  const small = drawn(photo, GUESSED_ON_PX);
  const { data } = small.getContext("2d").getImageData(0, 0, small.width, small.height);
  const gray = Float32Array.from({ length: small.width * small.height }, (_, i) => 0.299 * data[4 * i] + 0.587 * data[4 * i + 1] + 0.114 * data[4 * i + 2]);
  return paperCorners(gray, small.width, small.height);
}
