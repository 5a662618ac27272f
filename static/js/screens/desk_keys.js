import { openDialog } from "../elements/dialog.js";
import { h } from "../elements/h.js";
import { lettersAreEverywhere, listenToKeys, setLettersEverywhere } from "../gestures/keys.js";
import { correctPanels, markFigures, noteOnPanel, sendAll, standPosts } from "./desk_at_hand.js";
import { endDraft } from "./desk_draft.js";
import { nextOpen, panelsShown, regionOn } from "./desk_facts.js";
import { onto } from "./desk_picture.js";
import { moveTo, showPanel, wholePage, zoomBy } from "./desk_view.js";

const STEP_PX = 60;
const ZOOM = 1.25;

/** @returns the table of keys, which the help dialog prints as well */
function tableOf(state, view) {
  const { known } = state;
  const pan = (dx, dy) => () => known.view && moveTo(state, known.view.movedBy(dx, dy));
  const overlay = (name) => () => state.set({ overlays: { ...known.overlays, [name]: !known.overlays[name] } });
  return [
    { keys: ["n", "]"], words: "next panel", run: () => stepPanel(state, 1) },
    { keys: ["p", "["], words: "panel before", run: () => stepPanel(state, -1) },
    { keys: ["j"], words: "next open note", run: () => stepNote(state, 1) },
    { keys: ["k"], words: "open note before", run: () => stepNote(state, -1) },
    { keys: ["c"], words: "note on the panel at hand, or on the page", run: () => noteOnPanel(state) },
    { keys: ["s"], words: "send what you hold", run: () => sendAll(state) },
    { keys: ["e"], words: "correct the panels", run: () => correctPanels(state) },
    { keys: ["f"], words: "mark figures", run: () => markFigures(state) },
    { keys: ["t"], words: "stand figure posts", run: () => standPosts(state) },
    { keys: ["Escape"], words: "put away the note at hand, or the one being written", run: () => putAway(state) },
    { keys: ["+", "="], words: "larger", run: () => zoomBy(state, ZOOM) },
    { keys: ["-"], words: "smaller", run: () => zoomBy(state, 1 / ZOOM) },
    { keys: ["0"], words: "whole page", run: () => wholePage(state) },
    { keys: ["ArrowLeft"], words: "move the picture", where: view, run: pan(STEP_PX, 0) },
    { keys: ["ArrowRight"], words: "", where: view, run: pan(-STEP_PX, 0) },
    { keys: ["ArrowUp"], words: "", where: view, run: pan(0, STEP_PX) },
    { keys: ["ArrowDown"], words: "", where: view, run: pan(0, -STEP_PX) },
    { keys: ["1"], words: "panels shown or not", run: overlay("panels") },
    { keys: ["2"], words: "marks shown or not", run: overlay("notes") },
    { keys: ["3"], words: "closed notes shown or not", run: () => state.set({ showsClosed: !known.showsClosed }) },
    { keys: ["?"], words: "these keys", run: helpDialog },
  ];
}

let table = [];

export function listenOnDesk(state, view) {
  table = tableOf(state, view);
  listenToKeys(table, view);
}

function stepPanel(state, step) {
  const panels = panelsShown(state.known);
  if (!panels.length) return;
  const at = panels.findIndex((panel) => panel.id === state.known.panel);
  const next = at < 0 ? (step > 0 ? 0 : panels.length - 1) : (at + step + panels.length) % panels.length;
  showPanel(state, panels[next]);
}

function stepNote(state, step) {
  const note = nextOpen(state.known, step);
  if (!note) return;
  state.set({ note: note.id });
  const region = regionOn(note, state.known);
  const isFar = region && state.known.isMoved;
  if (isFar && "polygon" in region) moveTo(state, onto(state.known, region.polygon).zoomedAbout([state.known.box.width / 2, state.known.box.height / 2], 0.6, [0.05, 8]));
  requestAnimationFrame(() => document.querySelector(`[data-key="note-${note.id}"]`)?.focus());
}

function putAway(state) {
  if (state.known.draft) endDraft(state);
  else state.set({ note: null });
}

export function helpDialog() {
  const names = { ArrowLeft: "← → ↑ ↓", Escape: "Esc" };
  const rows = table.filter((row) => row.words).flatMap(({ keys, words }) => [
    h("dt", {}, keys.map((key) => h("kbd", {}, names[key] ?? key.toUpperCase()))), h("dd", {}, words),
  ]);
  const everywhere = h("input", { type: "checkbox", checked: lettersAreEverywhere(), onchange: () => setLettersEverywhere(everywhere.checked) });
  openDialog("Keys on the Desk", () => [
    h("dl", { class: "keys" }, rows),
    h("div", { class: "choices" }, h("label", {}, everywhere, "Single keys work everywhere on the Desk, not only on the picture")),
    h("p", { class: "hint" }, "With the mouse: drag to pin a note on a region, Shift and click for a spot, Alt and drag to move the picture, wheel to zoom. By touch: one finger moves, two zoom. With “Pin by taps” one tap pins a spot, a second one the opposite corner of a region."),
  ]);
}
