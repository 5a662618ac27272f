import { svg } from "../elements/h.js";
import { renditionFor } from "../elements/picture_part.js";
import { outline } from "../geometry/crop_marks.js";
import { toPixels } from "../geometry/page_space.js";
import { asMatrix, movedOnto, stillToPage } from "../geometry/still_placement.js";

const SHARP_PX = 1600;

/** The still that was placed under a panel, within its outline, in page px; nothing where none lies there. @param {{width: number, height: number}} size */
export function stillOfPanel({ id, polygon, row }, size) {
  const { still, still_place: place } = row ?? {};
  const rendition = place && renditionFor(still?.renditions, SHARP_PX);
  if (!rendition) return [];
  const own = { width: still.width_px, height: still.height_px };
  const placed = stillToPage(place.in_still, movedOnto(place.on_page, place.bounds, polygon), own, size);
  if ("reason" in placed) return [];
  const clip = `still-under-${id}`;
  return [
    svg("clipPath", { id: clip }, svg("path", { d: outline(polygon.map((point) => toPixels(size, point))) })),
    svg("g", { "clip-path": `url(#${clip})` }, svg("image", { class: "overlay-still", href: rendition.url, ...own, transform: asMatrix(placed) })),
  ];
}
