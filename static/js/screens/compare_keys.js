import { openDialog } from "../elements/dialog.js";
import { h } from "../elements/h.js";
import { lettersAreEverywhere, listenToKeys, setLettersEverywhere } from "../gestures/keys.js";
import { MODES } from "./compare_facts.js";
import { noteKeys } from "./compare_notes.js";
import { tellPanel, tellSeen, tellSlid } from "./compare_spoken.js";
import { panBy, stepPanel, wholePage, zoomBy } from "./compare_view.js";

const STEP_PX = 60;
const ZOOM = 1.25;
const SLIDE = 5;

let table = [];

function tableOf(state, pane) {
  const { known } = state;
  const pan = (dx, dy) => () => panBy(state, dx, dy);
  const set = (changes) => {
    state.set(changes);
    // Turned over, the ledge says itself what is seen.
    if (!("isFlipped" in changes && known.mode === "flip")) tellSeen(known);
  };
  const slide = (by) => () => {
    const name = known.mode === "split" ? "edge" : "fade";
    state.set({ [name]: Math.min(100, Math.max(0, known[name] + by)) });
    tellSlid(known);
  };
  const step = (by) => () => {
    stepPanel(state, by);
    tellPanel(known);
  };
  return [
    ...MODES.map(([mode, words], i) => ({ keys: [String(i + 1)], words: words.toLowerCase(), run: () => set({ mode }) })),
    { keys: ["f"], words: "held down: the older one", run: (event) => event.repeat || set({ isFlipped: true }) },
    { keys: ["t"], words: "turn over, and back", run: () => set({ isFlipped: !known.isFlipped }) },
    { keys: [","], words: "more of the older one", run: slide(-SLIDE) },
    { keys: ["."], words: "more of the newer one", run: slide(SLIDE) },
    { keys: ["r"], words: "laid on one another, or as uploaded", run: () => set({ wantsRegistered: !known.wantsRegistered }) },
    { keys: ["n", "]"], words: "next panel", run: step(1) },
    { keys: ["p", "["], words: "panel before", run: step(-1) },
    { keys: ["0"], words: "whole page", run: () => wholePage(state) },
    { keys: ["Escape"], words: "put the note at hand away, then the whole page", run: () => (known.note ? state.set({ note: null }) : wholePage(state)) },
    ...noteKeys(state),
    { keys: ["+", "="], words: "larger", run: () => zoomBy(state, ZOOM) },
    { keys: ["-"], words: "smaller", run: () => zoomBy(state, 1 / ZOOM) },
    { keys: ["ArrowLeft"], words: "move the sheets", where: pane, run: pan(STEP_PX, 0) },
    { keys: ["ArrowRight"], words: "", where: pane, run: pan(-STEP_PX, 0) },
    { keys: ["ArrowUp"], words: "", where: pane, run: pan(0, STEP_PX) },
    { keys: ["ArrowDown"], words: "", where: pane, run: pan(0, -STEP_PX) },
    { keys: ["?"], words: "these keys", run: helpDialog },
  ];
}

export function listenOnCompare(state, pane) {
  table = tableOf(state, pane);
  listenToKeys(table, pane);
  const letGo = () => state.known.isFlipped && state.set({ isFlipped: false });
  addEventListener("keyup", (event) => event.key.toLowerCase() === "f" && letGo());
  addEventListener("blur", letGo);
}

export function helpDialog() {
  const names = { ArrowLeft: "← → ↑ ↓", Escape: "Esc" };
  const rows = table.filter((row) => row.words).flatMap(({ keys, words }) => [
    h("dt", {}, keys.map((key) => h("kbd", {}, names[key] ?? key.toUpperCase()))), h("dd", {}, words),
  ]);
  const everywhere = h("input", { type: "checkbox", checked: lettersAreEverywhere(), onchange: () => setLettersEverywhere(everywhere.checked) });
  openDialog("Keys on Compare", () => [
    h("dl", { class: "keys" }, rows),
    h("div", { class: "choices" }, h("label", {}, everywhere, "Single keys work everywhere on this screen, not only on the sheets")),
    h("p", { class: "hint" }, "With the mouse or a finger: drag to move the sheets, wheel or two fingers to zoom, Shift and wheel to move up and down, drag the edge of the split. Laid on one another, the older sheet is bent onto the newer one by the map that was found when it was uploaded, small local shifts included."),
  ]);
}
