import { h, svg } from "../elements/h.js";
import { whisper } from "../elements/slips.js";
import { MOST_LINES, regionAround } from "../geometry/drawn_lines.js";
import { bounds } from "../geometry/page_space.js";
import { beginDraft, changeDraft } from "./desk_draft.js";
import { draftHere, panelsShown } from "./desk_facts.js";
import { takeUpLines } from "./draft_again.js";
import { drawByHand } from "./shapes_hand.js";
import { listenWhileShaping } from "./shapes_keys.js";
import { showShapeTools } from "./shapes_tools.js";

let mounted = null;

/** A note's region is drawn as what it is: a box, a free outline, a spot; or the note draws over the page: arrows and strokes. */
export function drawShapes(state) {
  const { known } = state;
  if (known.edit || known.marking || known.posting || !known.revision || !known.may.write) return;
  mounted ??= mount(state);
  const panel = panelsShown(known).find((one) => one.id === known.panel);
  const [left, top, right, bottom] = panel ? bounds(panel.polygon) : [0, 0, 1, 1];
  state.set({ shaping: { tool: known.shaping?.tool ?? "stroke", cross: [(left + right) / 2, (top + bottom) / 2], begun: [] }, pins: false });
  takeUpLines(state);
  document.getElementById("desk").classList.add("is-shaping");
  mounted.open();
  document.getElementById("view").focus();
}

function mount(state) {
  const view = document.getElementById("view");
  const ledge = h("div", { class: "at-hand shape-ledge" });
  const layer = svg("svg", { class: "drawn shape-layer", "aria-hidden": "true" });
  document.getElementById("at-hand").after(ledge);
  view.append(layer);
  const deeds = deedsOf(state);
  showShapeTools(state, ledge, deeds);
  drawByHand(state, layer, deeds);
  let stop = () => {};
  state.on(["revision", "edit"], ({ shaping, edit }) => shaping && edit && end(state));
  return { open: () => { stop(); stop = listenWhileShaping(state, view, deeds); }, close: () => stop() };
}

/** @returns what a pointer, a key or a button may do */
function deedsOf(state) {
  const { known } = state;
  const set = (fields) => state.set({ shaping: { ...known.shaping, ...fields } });
  const put = (fields) => (known.draft ? changeDraft(state, fields) : beginDraft(state, fields, { takesFocus: false }));
  const lines = () => draftHere(known)?.lines ?? [];
  const putLines = (all) => {
    const follows = !draftHere(known)?.region || known.draft.standsAround;
    if (!follows) return put({ lines: all });
    return put({ lines: all, standsAround: true, region: all.length ? regionAround(all) : null });
  };
  return {
    set,
    choose: (tool) => set({ tool, begun: [] }),
    region: (region) => put({ region, standsAround: false }),
    line: (line) => {
      if (lines().length >= MOST_LINES) return whisper(`A note draws at most ${MOST_LINES} lines.`);
      whisper(line.kind === "arrow" ? "An arrow is drawn." : "A stroke is drawn.");
      return putLines([...lines(), line]);
    },
    takeOff: () => lines().length && putLines(lines().slice(0, -1)),
    done: () => end(state),
  };
}

function end(state) {
  state.set({ shaping: null });
  document.getElementById("desk").classList.remove("is-shaping");
  mounted.close();
  (document.querySelector('[data-key="draft-body"]') ?? document.querySelector('[data-key="draw-shapes"]'))?.focus();
}
