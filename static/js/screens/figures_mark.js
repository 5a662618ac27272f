import { castOf, changeFigure, figuresOn, markFigure, removeFigure } from "../api/figures.js";
import { h } from "../elements/h.js";
import { attempt, say, whisper } from "../elements/slips.js";
import { spoken } from "../gestures/nudge_region.js";
import { middleOf } from "../geometry/page_space.js";
import { panelsShown } from "./desk_facts.js";
import { forgetLook, lookBack, lookClose, setClose } from "./figures_close_look.js";
import { doubtOf } from "./figures_close_up.js";
import { drawFiguresMark } from "./figures_mark_drawn.js";
import { listenWhileMarking } from "./figures_mark_keys.js";
import { begun, bodyOf, chosenOf, kept, nextMark, replaced, says, stepBack, withCharacter, withPoint, without } from "./figures_mark_model.js";
import { showMarkTools } from "./figures_mark_tools.js";

let parts = null;

/** Figures of the picture shown are marked and tied to the cast, each kept as soon as it is whole. */
export async function markFigures(state) {
  const { known } = state;
  if (known.edit || known.marking || known.posting || !known.revision) return;
  const found = await attempt(() => Promise.all([castOf(known.board.id), figuresOn(known.revision.id)]));
  if (!found) return;
  const panel = panelsShown(known).find((one) => one.id === known.panel);
  state.set({ marking: begun(known.revision.id, ...found, panel && middleOf({ polygon: panel.polygon })), note: null, draft: null });
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
    back: () => {
      if (state.known.marking.closeUp) return lookBack(state);
      return stepBack(state.known.marking) ? change(stepBack(state.known.marking)) : end(state);
    },
    done: () => end(state),
  };
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
  return change(withCharacter(marking, id));
}

/** What is under way is no longer at hand, so that no second key sends it again; refused, it is there as before. */
async function keepIfWhole(state) {
  const { marking } = state.known;
  const body = bodyOf(marking);
  if (!body) return;
  state.set({ marking: { ...marking, crown: null, sole: null } });
  const figure = await attempt(() => markFigure(marking.revision, body));
  const now = state.known.marking;
  if (!now) return;
  state.set({ marking: figure ? kept(now, figure) : { ...now, crown: marking.crown, sole: marking.sole } });
  // Somebody else was named while it was on its way.
  if (figure && now.character !== body.character) await patch(state, { character: now.character });
}

async function patch(state, fields) {
  const figure = chosenOf(state.known.marking);
  const changed = figure && await attempt(() => changeFigure(figure, fields));
  if (changed && state.known.marking) state.set({ marking: replaced(state.known.marking, changed) });
  return Boolean(changed);
}

async function remove(state) {
  const figure = chosenOf(state.known.marking);
  if (!figure || !(await attempt(() => removeFigure(figure)))) return;
  state.set({ marking: without(state.known.marking, figure.id) });
  say("The figure's marks are gone.");
}

function end(state) {
  forgetLook();
  state.set({ marking: null });
  document.getElementById("desk").classList.remove("is-marking");
  parts.close();
  document.querySelector('[data-key="mark-figures"]')?.focus();
}
