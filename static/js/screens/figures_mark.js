import { castOf, proposalsOn } from "../api/figures.js";
import { h } from "../elements/h.js";
import { backTo } from "../elements/more.js";
import { attempt, whisper } from "../elements/slips.js";
import { spoken } from "../gestures/nudge_region.js";
import { middleOf } from "../geometry/page_space.js";
import { panelsShown } from "./desk_facts.js";
import { forgetLook, lookBack, lookClose, setClose } from "./figures_close_look.js";
import { proposalDeeds, withProposals } from "./figure_proposals.js";
import { doubtOf } from "./figures_close_up.js";
import { drawFiguresMark } from "./figures_mark_drawn.js";
import { inTurn, keepIfWhole, patch, readFigures, remove } from "./figures_mark_kept.js";
import { listenWhileMarking } from "./figures_mark_keys.js";
import { begun, chosenOf, nextMark, says, stepBack, withCharacter, withPoint } from "./figures_mark_model.js";
import { showMarkTools } from "./figures_mark_tools.js";

let parts = null;

/** Figures of the picture shown are marked and tied to the cast, each kept as soon as it is whole. */
export async function markFigures(state, at = state.known.panel) {
  const { known } = state;
  if (known.edit || known.marking || known.posting || !known.revision) return;
  const { id } = known.revision;
  const found = await inTurn(() => attempt(() => Promise.all([castOf(known.board.id), readFigures(id), proposalsOn(id)])));
  if (!found) return;
  const panel = panelsShown(known).find((one) => one.id === at);
  const [cast, figures, proposals] = found;
  const marking = begun(id, cast, figures, panel && middleOf({ polygon: panel.polygon }));
  state.set({ marking: withProposals(marking, proposals), note: null, draft: null });
  document.getElementById("desk").classList.add("is-marking");
  parts ??= mount(state);
  parts.open();
  document.getElementById("view").focus();
}

/** @returns what a pointer, a key or a button may do */
function deedsOf(state) {
  const change = (marking) => {
    state.set({ marking });
    return keepIfWhole(state);
  };
  return {
    change,
    point: (point, byFinger) => setPoint(state, point, doubtOf(state.known, byFinger), change),
    cursor: (cursor) => state.set({ marking: { ...state.known.marking, cursor } }),
    further: (further) => (further === "chin" ? lookClose(state, "crown") : change({ ...state.known.marking, further })),
    closeUp: () => (state.known.marking.closeUp ? lookBack(state) : lookClose(state, "crown")),
    character: (id) => chooseCharacter(state, id, change),
    set: (fields) => patch(state, fields),
    remove: () => remove(state),
    removeLost: (figure) => remove(state, figure),
    ...proposalDeeds(state),
    back: () => goBack(state, change),
    done: () => end(state),
  };
}

/** The last thing that was begun is put away; at last the tool itself. */
function goBack(state, change) {
  const { marking } = state.known;
  if (marking.closeUp) return lookBack(state);
  const before = stepBack(marking);
  return before ? change(before) : end(state);
}

function mount(state) {
  const ledge = h("div", { class: "at-hand mark-ledge" });
  const view = document.getElementById("view");
  document.getElementById("at-hand").after(ledge);
  const deeds = deedsOf(state);
  showMarkTools(state, ledge, deeds);
  drawFiguresMark(state, view, deeds);
  let stop = () => {};
  // Another picture came to lie there: marks belong to the one they were made on.
  state.on(["revision"], ({ marking, revision }) => marking && marking.revision !== revision?.id && end(state));
  return { open: () => { stop = listenWhileMarking(state, view, deeds); }, close: () => stop() };
}

function setPoint(state, point, doubt, change) {
  const { marking } = state.known;
  const next = nextMark(marking);
  if (next === "who") return whisper(says(marking));
  whisper(`${next}: ${spoken({ point })}`);
  if (marking.closeUp) return setClose(state, next, (marks) => patch(state, { marks: { ...marks, [next]: point }, doubts: { [next]: doubt } }));
  if (next === "crown" || next === "sole") return change(withPoint(marking, point, doubt));
  return patch(state, { marks: { ...chosenOf(marking).marks, [next]: point }, doubts: { [next]: doubt } });
}

/** Of the figure that is begun; else of the chosen one; else of the next. */
function chooseCharacter(state, id, change) {
  const { marking } = state.known;
  const figure = chosenOf(marking);
  if (figure && !marking.crown && figure.character !== id) patch(state, { character: id });
  return change(withCharacter(state.known.marking, id));
}

function end(state) {
  forgetLook();
  state.set({ marking: null });
  document.getElementById("desk").classList.remove("is-marking");
  parts.close();
  backTo("mark-figures");
}
