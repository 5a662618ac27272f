import { ViewTransform } from "../geometry/view_transform.js";
import { BASE_PX, FIT_MARGIN_PX, isWhole } from "./desk_picture.js";
import { moveTo } from "./desk_view.js";

/** As wide as the view: about what lies in its middle; from the top where all was in sight. */
export function asWideAsView(state) {
  const { known } = state;
  const { view, box } = known;
  if (!view) return;
  const scale = (box.width - 2 * FIT_MARGIN_PX) / BASE_PX;
  const middle = box.height / 2;
  moveTo(state, new ViewTransform(scale, FIT_MARGIN_PX, isWhole(known) ? FIT_MARGIN_PX : middle - view.toPicture([0, middle])[1] * scale));
}
