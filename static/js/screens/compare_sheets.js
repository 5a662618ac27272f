import { drawPlain, drawWarped, pixelsOf } from "../elements/warped_sheet.js";
import { renditionFor } from "../elements/picture_part.js";
import { differenceOf } from "../geometry/line_difference.js";
import { mapOfSteps } from "../geometry/page_map.js";
import { isRegistered } from "./compare_facts.js";
import { BASE_PX } from "./compare_view.js";

const DIFFERENCE_PX = 1200;
/** A page narrower than this on the screen is shown at less than half the size of its smallest copy. */
const NARROW_PX = 200;
const pictures = new Map();

/** Both sheets as canvases of one size, the older one laid on the newer by the kept map; and what differs between them. */
export function showSheets(state, { older, newer, differs }) {
  let asked = { pair: "", widthPx: 0 };
  let told = "";
  const draw = async () => {
    const { known } = state;
    if (!known.older || !known.view) return;
    const widthPx = BASE_PX * known.view.scale * devicePixelRatio * 0.85;
    const parts = [known.older, known.newer].map((one) => renditionFor(one.renditions, widthPx));
    const pair = `${known.older.id} ${known.newer.id} ${isRegistered(known)}`;
    const narrowPx = known.mode === "differs" ? 0 : narrowFor(widthPx);
    const sheetPx = narrowPx || parts[1].width_px;
    // A sharper pair stays when one zooms out again.
    if (asked.pair === pair && (narrowPx ? asked.widthPx === sheetPx : asked.widthPx >= sheetPx)) return;
    const mine = { pair, widthPx: sheetPx };
    asked = mine;
    const [olderImage, newerImage] = await Promise.all(parts.map(({ url }) => pictureAt(url)));
    if (asked !== mine) return;
    const times = narrowPx ? narrowPx / newerImage.naturalWidth : 1;
    for (const canvas of [older, newer]) {
      [canvas.width, canvas.height] = [newerImage.naturalWidth * times, Math.max(1, newerImage.naturalHeight * times)];
      if (narrowPx) canvas.getContext("2d", { willReadFrequently: true }).imageSmoothingQuality = "high";
    }
    drawPlain(newer, newerImage);
    if (isRegistered(known)) drawWarped(older, olderImage, mapOfSteps(known.steps));
    else drawPlain(older, olderImage);
    const drawn = `${pair} ${mine.widthPx}`;
    state.set({ drawn });
  };
  const tellApart = () => {
    const { mode, drawn } = state.known;
    if (mode !== "differs" || !drawn || told === drawn) return;
    told = drawn;
    const difference = differenceOf(pixelsOf(older, DIFFERENCE_PX), pixelsOf(newer, DIFFERENCE_PX));
    [differs.width, differs.height] = [difference.width, difference.height];
    differs.getContext("2d").putImageData(new ImageData(difference.data, difference.width, difference.height), 0, 0);
    state.set({ difference: { gone: difference.gone, isNew: difference.isNew, drawn } });
  };
  state.on(["older", "newer", "steps", "wantsRegistered", "view", "mode"], draw);
  // One frame later, so that the word for it is seen first.
  state.on(["mode", "drawn"], () => requestAnimationFrame(() => setTimeout(tellApart)));
}

/** The width to draw the sheets at where a browser that scales them down by itself would leave out lines; a few widths serve all zooms. 0: as wide as the copy. */
const narrowFor = (widthPx) => (widthPx < NARROW_PX ? Math.round(2 ** (Math.ceil(2 * Math.log2(widthPx)) / 2)) : 0);

/** Decoded once; the last few stay at hand, so that going back and forth needs no network. */
async function pictureAt(url) {
  if (!pictures.has(url)) {
    const image = new Image();
    image.src = url;
    pictures.set(url, image.decode().then(() => image));
    if (pictures.size > 8) pictures.delete(pictures.keys().next().value);
  }
  return pictures.get(url);
}
