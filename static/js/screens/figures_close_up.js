/** Crown and chin, set close up: a head is a seventh of a figure, so a head count needs both more exactly than a page seen whole lets one point. */
import { ViewTransform } from "../geometry/view_transform.js";
import { BASE_PX, sizeOf } from "./desk_picture.js";
import { endsOf } from "./figures_mark_model.js";

/** 1 sigma of a place that is pointed at, CSS px: common practice, no source. A finger hides what it taps: about 1.5 mm (X. Bi and others, 2013; from memory). */
const POINTED_PX = 2;
const TAPPED_PX = 9;
const ABOVE = 0.12; // of the figure's height, over the crown: it may have been set from afar
const BELOW = 0.3; // down to below the chin of a figure four heads tall
const MARGIN_PX = 16;
const MOST_SCALE = 24;
const STEP_PX = 4;

export const CLOSE_UP = { crown: "chin", chin: "" };

/** How sure a mark is, as a share of the picture's width. @param {{view: ViewTransform}} known @param {boolean} [byFinger] */
export const doubtOf = ({ view }, byFinger = false) => (byFinger ? TAPPED_PX : POINTED_PX) / (BASE_PX * view.scale);

/** The head of a figure as large as the view allows. */
export function ontoHead({ revision, box }, figure) {
  const size = sizeOf(revision);
  const [crown, sole] = endsOf(figure).map(([x, y]) => [x * size.width, y * size.height]);
  const along = [sole[0] - crown[0], sole[1] - crown[1]];
  const half = ((ABOVE + BELOW) / 2) * Math.hypot(...along);
  const middle = crown.map((v, i) => v + ((BELOW - ABOVE) / 2) * along[i]);
  return ViewTransform.onto([middle[0] - half, middle[1] - half, middle[0] + half, middle[1] + half], box, MARGIN_PX, MOST_SCALE);
}

/** Where the cross begins: at the crown that is to be set anew, at a chin that is there, else in the middle of the view. */
export function cursorAt({ revision, box, view }, figure, step) {
  if (figure.marks[step]) return figure.marks[step];
  const size = sizeOf(revision);
  const [x, y] = view.toPicture([box.width / 2, box.height / 2]);
  return [x / size.width, y / size.height];
}

/** One step of the arrow keys, page coordinates: a few pixels of the screen. */
export function stepOf({ revision, view }) {
  const size = sizeOf(revision);
  return [STEP_PX / (size.width * view.scale), STEP_PX / (size.height * view.scale)];
}
