import { freeStill, placeStill } from "../api/panels.js";
import { openDialog } from "../elements/dialog.js";
import { field, form } from "../elements/field.js";
import { button, h, svg, word } from "../elements/h.js";
import { renditionFor } from "../elements/picture_part.js";
import { twoPoints } from "../elements/two_points.js";
import { bounds, toPixels } from "../geometry/page_space.js";
import { asMatrix, movedOnto, stillToPage } from "../geometry/still_placement.js";
import { load } from "./desk_load.js";
import { setterOn } from "./set_on_row.js";
import { findStill } from "./still_search.js";

const SHARP_PX = 1600;

/** Where a still lies under its panel: two points of the one, the same two of the other, and the still laid over to look. */
export function stillPlaceDialog(panel, state) {
  const again = () => load(state, ["panels", "revision", "notes"]);
  const set = setterOn("panels", panel.row, (one) => one.still_place);
  openDialog(`The still under panel ${panel.order}`, (close, dialog) => {
    const finish = (row) => {
      if (!row) return;
      close();
      again();
    };
    const placing = placingOf(panel, state.known.revision);
    const revision = state.known.revision.id;
    return form({}, () => set((row) => placeStill(row, { ...placing.points(), revision }), { done: "The still lies under the panel.", onRefusal: again }).then(finish),
      h("p", { class: "hint" }, "Let it be found by the lines that both have, look at it and confirm. Or set two points that stand apart, such as two corners of the room, in the panel, and then the same two in the still."),
      h("div", { class: "buttons" }, findStill(panel.row, revision, dialog, placing.put)),
      ...placing.elements,
      h("div", { class: "buttons" }, placing.save, button("Start again", placing.clear),
        panel.row.still_place && word("Take it off", () => set(freeStill, { done: "Taken off.", onRefusal: again }).then(finish))));
  }, { isWide: true });
}

function placingOf(panel, revision) {
  const still = panel.row.still;
  const [pageSize, stillSize] = [sizeOf(revision), sizeOf(still)];
  const [pageUrl, stillUrl] = [revision, still].map((one) => renditionFor(one.renditions, SHARP_PX)?.url);
  const [left, top, right, bottom] = bounds(panel.polygon);
  const part = [...toPixels(pageSize, [left, top]), ...toPixels(pageSize, [right, bottom])];
  const known = panel.row.still_place;
  const onChange = () => {
    show();
    save.form?.dispatchEvent(new Event("input", { bubbles: true })); // set, it is as good as typed
  };
  const onPage = twoPoints({ name: "The panel", url: pageUrl, size: pageSize, part, points: known ? movedOnto(known.on_page, known.bounds, panel.polygon) : [], onChange });
  const inStill = twoPoints({ name: still.title, url: stillUrl, size: stillSize, part: [0, 0, stillSize.width, stillSize.height], points: known?.in_still ?? [], onChange });
  const over = svg("image", { href: stillUrl, width: stillSize.width, height: stillSize.height });
  const laid = svg("svg", { class: "two-points is-look", viewBox: `${part[0]} ${part[1]} ${part[2] - part[0]} ${part[3] - part[1]}`, role: "img", "aria-label": "The still laid over the panel" },
    svg("image", { href: pageUrl, width: pageSize.width, height: pageSize.height }), over);
  const share = h("input", { type: "range", "data-look-only": "", min: "0", max: "100", value: "50", oninput: () => over.setAttribute("opacity", String(Number(share.value) / 100)) });
  over.setAttribute("opacity", "0.5");
  const look = h("div", { class: "still-look" }, laid, field("How much of the still shows", share));
  const says = h("p", { class: "small", role: "status" });
  const save = h("button", { class: "button first" }, "Place the still");
  const show = () => {
    const [there, here] = [2 - onPage.points.length, 2 - inStill.points.length];
    const placed = there || here ? { reason: waiting(there, here) } : stillToPage(inStill.points, onPage.points, stillSize, pageSize);
    save.disabled = "reason" in placed;
    look.hidden = "reason" in placed;
    says.textContent = "reason" in placed ? placed.reason : "So does the still lie under the panel. A further click moves the nearer point.";
    if (!("reason" in placed)) over.setAttribute("transform", asMatrix(placed));
  };
  show();
  return {
    elements: [h("div", { class: "still-pair" }, onPage.element, inStill.element), says, look], save,
    points: () => ({ in_still: inStill.points, on_page: onPage.points }),
    clear: () => [onPage, inStill].map((one) => one.clear()),
    put: (found) => {
      onPage.put(found.on_page);
      inStill.put(found.in_still);
      says.textContent = "Found. Is this how it lies? Enter places it; a click moves the nearer point.";
      save.focus();
    },
  };
}

const sizeOf = ({ width_px, height_px }) => ({ width: width_px, height: height_px });

function waiting(inPanel, inStill) {
  const parts = [inPanel && `${inPanel} in the panel`, inStill && `${inStill} in the still`].filter(Boolean);
  return `Points to set: ${parts.join(", ")}.`;
}
