import { h, swap } from "../elements/h.js";
import { picturePart, renditionFor } from "../elements/picture_part.js";
import { count } from "../elements/words.js";
import { panelsOf, wordsBetween } from "./compare_facts.js";
import { showPanel, wholePage } from "./compare_view.js";

const PART_PX = 1000;

/** The panels of the newer sheet in reading order, each with the word for what changed in it. */
export function showPanels(state, strip) {
  state.on(["older", "newer", "panel"], (known) => {
    strip.hidden = !known.newer;
    if (!known.newer) return;
    const words = wordsBetween(known);
    const gone = words.size ? known.newer.changes.gone.length : 0;
    swap(strip, h("ol", {}, [
      panelItem("Whole page", !known.panel, "panel-whole", () => wholePage(state)),
      ...panelsOf(known).map((panel) => onePanel(panel, words.get(panel.id), state)),
    ]), gone > 0 && h("p", { class: "small quiet compare-gone" }, `${count(gone, "panel")} of the older sheet ${gone === 1 ? "is" : "are"} gone.`));
  });
}

function onePanel(panel, change, state) {
  const { known } = state;
  const rendition = renditionFor(known.newer.renditions, PART_PX);
  return panelItem([
    rendition && picturePart(rendition, panel.polygon, { class: "compare-part" }),
    h("span", { class: "compare-word" }, h("span", { class: "out-of-sight" }, "Panel "), h("span", { class: "figure" }, String(panel.order)),
      change && h("span", { "data-word": change.word, title: keptWords(change) }, change.word)),
  ], known.panel === panel.id, `panel-${panel.id}`, () => showPanel(state, panel));
}

const panelItem = (content, isAtHand, key, onclick) =>
  h("li", {}, h("button", { type: "button", class: "compare-panel", "data-key": key, "aria-pressed": String(isAtHand), onclick }, content));

const keptWords = ({ kept_before, kept_after }) =>
  `${Math.round(kept_before * 100)} % of the older lines still stand; ${Math.round(kept_after * 100)} % of the newer ones were there.`;
