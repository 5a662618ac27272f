import { h, swap } from "../elements/h.js";
import { picturePart, renditionFor } from "../elements/picture_part.js";
import { listen } from "../gestures/pan_zoom.js";
import { choose, toPlace } from "./panels_edit_model.js";

const PART_PX = 1000;
const A_DRAG_PX = 8;

/** The panels in their order: an item is dragged to another place, or chosen and given its number. */
export function showEditStrip(state, strip) {
  const { known } = state;
  state.on(["edit"], ({ edit, revision }) => {
    if (!edit) return;
    const rendition = renditionFor(revision?.renditions, PART_PX);
    swap(strip, h("ol", {}, edit.panels.map((panel, k) => h("li", {}, h("button", {
      type: "button", class: "strip-panel edit-item", "data-key": `edit-${panel.key}`, "aria-pressed": String(edit.chosen === panel.key),
      onclick: () => state.set({ edit: choose(known.edit, panel.key) }),
    },
      rendition && picturePart(rendition, panel.polygon, { class: "strip-part" }),
      h("span", { class: "strip-foot" }, h("span", { class: "out-of-sight" }, "Panel "), h("span", { class: "figure" }, String(k + 1))))))),
      !edit.panels.length && h("p", { class: "quiet small" }, "No panels yet. Add the first one."));
  });
  dragToReorder(strip, (from, to) => {
    const panel = known.edit.panels[from];
    state.set({ edit: toPlace({ ...choose(known.edit, panel.key) }, to + 1) });
  });
}

/** One pointer moves one item along the row. */
function dragToReorder(strip, onMoved) {
  let drag = null;
  const items = () => [...strip.querySelectorAll("li")];
  const placeAt = (x) => items().filter((item, k) => k !== drag.from && middleOf(item) < x).length;
  const onDown = (event) => {
    const from = items().findIndex((item) => item.contains(event.target));
    if (from >= 0 && event.button === 0) drag = { from, x: event.clientX, isOn: false };
  };
  const onMove = (event) => {
    if (!drag || (!drag.isOn && Math.abs(event.clientX - drag.x) < A_DRAG_PX)) return;
    drag.isOn = true;
    items()[drag.from].style.translate = `${event.clientX - drag.x}px 0`;
  };
  const onUp = (event) => {
    const ended = drag;
    if (ended?.isOn) {
      const to = placeAt(event.clientX);
      items()[ended.from].style.translate = "";
      onMoved(ended.from, to);
    }
    drag = null;
  };
  listen(strip, { pointerdown: onDown });
  listen(window, { pointermove: onMove, pointerup: onUp, pointercancel: onUp });
}

const middleOf = (item) => {
  const box = item.getBoundingClientRect();
  return box.left + box.width / 2;
};
