import { say } from "../elements/slips.js";
import { listenToKeys } from "../gestures/keys.js";
import { noteOnPanel } from "./desk_at_hand.js";
import { endDraft } from "./desk_draft.js";
import { nextOpen, panelsShown, regionOn } from "./desk_facts.js";
import { act } from "./desk_notes.js";
import { noteListDialog, sendAll } from "./dialogs_on_demand.js";
import { onto } from "./desk_picture.js";
import { moveTo, showPanel, wholePage, zoomBy } from "./desk_view.js";
import { MORE_OVERLAYS, asWideAsView, correctPanels, drawShapes, layOver, markFigures, standPosts } from "./tools_on_demand.js";

const STEP_PX = 60;
const ZOOM = 1.25;

/** @returns the table of keys, which the help dialog prints as well */
function tableOf(state, view) {
  const { known } = state;
  const pan = (dx, dy) => () => known.view && moveTo(state, known.view.movedBy(dx, dy));
  const overlay = (name) => () => layOver(state, name);
  const deed = (name) => () => withNoteAtHand(state, (note) => act(state, note, name, true));
  const parts = {
    "Looking": [
      [["n", "]"], "next panel", () => stepPanel(state, 1)],
      [["p", "["], "panel before", () => stepPanel(state, -1)],
      [[">"], "next page", () => turnTo("after")],
      [["<"], "page before", () => turnTo("before")],
      [["+", "="], "larger", () => zoomBy(state, ZOOM)],
      [["-"], "smaller", () => zoomBy(state, 1 / ZOOM)],
      [["0"], "whole page", () => wholePage(state)],
      [["w"], "as wide as the view", () => asWideAsView(state)],
      [["ArrowLeft"], "move the picture", pan(STEP_PX, 0), view],
      [["ArrowRight"], "", pan(-STEP_PX, 0), view],
      [["ArrowUp"], "", pan(0, STEP_PX), view],
      [["ArrowDown"], "", pan(0, -STEP_PX), view],
      [["1"], "panels shown or not", overlay("panels")],
      [["2"], "marks shown or not", overlay("notes")],
      [["3"], "closed notes shown or not", () => state.set({ showsClosed: !known.showsClosed })],
      ...MORE_OVERLAYS.map(([name, words, key]) => [[key], `${words.toLowerCase()} laid over or not`, overlay(name)]),
    ],
    "Notes": [
      [["j"], "next open note; those whose spot changed come first", () => stepNote(state, 1)],
      [["k"], "open note before", () => stepNote(state, -1)],
      [["c"], "note on the panel at hand, or on the page", () => noteOnPanel(state)],
      [["d"], "draw on the page: region, free outline, spot, arrow, strokes", () => drawShapes(state)],
      [["l"], "list of all notes, by panel, state or tone", () => known.page && noteListDialog(state)],
      [["s"], "send what you hold", () => sendAll(state)],
      [["Escape"], "put away the note at hand, or the one being written", () => putAway(state)],
    ],
    "The note at hand": [
      [["y"], "it is dealt with: settle it, and on to the next", deed("settled")],
      [["o"], "not yet: it stays open, and on to the next", deed("not-yet")],
      [["a"], "answer it", deed("answered")],
      [["x"], "stet: let it stand", deed("stet")],
      [["u"], "undo the last step", async () => (await import("./undo.js")).undoLast()],
    ],
    "Working on the page": [
      [["e"], "correct the panels", () => correctPanels(state)],
      [["f"], "mark figures", () => markFigures(state)],
      [["t"], "stand figure posts", () => standPosts(state)],
      [["?"], "these keys", help],
    ],
  };
  return Object.entries(parts).flatMap(([part, rows]) => rows.map(([keys, words, run, where]) => ({ part, keys, words, run, where })));
}

let table = [];

export function listenOnDesk(state, view) {
  table = tableOf(state, view);
  listenToKeys(table, view);
}

async function stepPanel(state, step) {
  const panels = panelsShown(state.known);
  if (!panels.length) return;
  const at = panels.findIndex((panel) => panel.id === state.known.panel);
  const next = at < 0 ? (step > 0 ? 0 : panels.length - 1) : (at + step + panels.length) % panels.length;
  showPanel(state, panels[next]);
  (await import("./panel_spoken.js")).tellPanel(state.known, panels[next]);
}

/** By the link in the masthead. */
function turnTo(side) {
  const link = document.getElementById(`page-${side}`);
  if (link) link.click();
  else say(`No page comes ${side} this one.`);
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

function withNoteAtHand({ known }, run) {
  const note = known.notes.find((one) => one.id === known.note);
  if (note) run(note);
  else say("Take up a note first: J takes the next open one.");
}

export const help = async () => (await import("./keys_dialog.js")).keysDialog(table);
