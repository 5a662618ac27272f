import { renditionFor } from "../elements/picture_part.js";
import { bounds } from "../geometry/page_space.js";
import { ViewTransform } from "../geometry/view_transform.js";

/** The picture is laid out this wide and scaled; page coordinates times this are its pixels. */
export const BASE_PX = 1200;
export const FIT_MARGIN_PX = 34;
const MOST_SCALE = 8;

export const sizeOf = (revision) => ({
  width: BASE_PX,
  height: revision?.width_px ? (BASE_PX * revision.height_px) / revision.width_px : BASE_PX * Math.SQRT2,
});

export const fitted = ({ revision, box }) => ViewTransform.fit(sizeOf(revision), box, FIT_MARGIN_PX);

/** Nothing of the picture lies outside its frame. */
export const isWhole = (known) => known.view.isWithin(fitted(known));

export const limits = (known) => [Math.min(fitted(known).scale, 1) * 0.9, MOST_SCALE];

/** Page coordinates to the view's own pixels, and back. */
export const toScreen = ({ view, revision }) => {
  const size = sizeOf(revision);
  return ([x, y]) => view.toScreen([x * size.width, y * size.height]);
};
export const toPage = ({ view, revision }, point) => {
  const size = sizeOf(revision);
  const [x, y] = view.toPicture(point);
  return [x / size.width, y / size.height];
};

/** A panel (or another outline) as large as the view allows. */
export function onto(known, polygon) {
  const size = sizeOf(known.revision);
  const [left, top, right, bottom] = bounds(polygon);
  const part = [left * size.width, top * size.height, right * size.width, bottom * size.height];
  return ViewTransform.onto(part, known.box, 60, Math.max(1.6, fitted(known).scale));
}

/** Keeps the `<img>` where the view says, and as sharp as the zoom asks for. */
export function showPicture(state, image) {
  let loading = "";
  const place = ({ view, revision }) => {
    if (!view) return;
    const size = sizeOf(revision);
    image.classList.add("is-placed");
    image.style.width = `${size.width}px`;
    image.style.height = `${size.height}px`;
    image.style.transform = `translate(${view.x}px, ${view.y}px) scale(${view.scale})`;
  };
  const sharpen = async ({ view, revision }) => {
    const wanted = renditionFor(revision?.renditions, BASE_PX * (view?.scale ?? 1) * devicePixelRatio * 0.85);
    const isShown = image.dataset.revision === String(revision?.id) && image.naturalWidth >= (wanted?.width_px ?? 0);
    if (!wanted || isShown || loading === wanted.url) return;
    loading = wanted.url;
    const sharper = new Image();
    sharper.src = wanted.url;
    await sharper.decode().catch(() => {});
    if (loading !== wanted.url || state.known.revision?.id !== revision.id) return;
    image.src = wanted.url;
    image.dataset.revision = String(revision.id);
    state.known.pictured = revision.id;
    image.alt = `Page ${state.known.page.numbers.join(" and ")}, ${revision.stage}, revision ${revision.number}`;
    image.hidden = false;
  };
  state.on(["view", "revision"], (known) => {
    if (!known.revision && known.isLoaded) image.hidden = true;
    place(known);
    sharpen(known);
  });
}
