import { moveTo } from "./desk_view.js";
import { CLOSE_UP, cursorAt, ontoHead } from "./figures_close_up.js";
import { chosenOf, endsOf } from "./figures_mark_model.js";

const looks = { before: null, isBusy: false };

/** The head as large as the view allows; where one was looking before is kept. */
export function lookClose(state, step) {
  const figure = chosenOf(state.known.marking);
  if (!figure || !endsOf(figure)) return;
  looks.before ??= { view: state.known.view, isMoved: state.known.isMoved };
  moveTo(state, ontoHead(state.known, figure));
  state.set({ marking: { ...state.known.marking, crown: null, sole: null, closeUp: step, cursor: cursorAt(state.known, figure, step) } });
  document.getElementById("view").focus();
}

export function lookBack(state) {
  if (looks.before) state.set(looks.before);
  looks.before = null;
  state.set({ marking: { ...state.known.marking, closeUp: "", further: "" } });
}

/** Crown, then chin; each is kept as soon as it is set; what cannot be kept is asked for again. @param {(marks: object) => Promise<boolean>} keep */
export async function setClose(state, step, keep) {
  if (looks.isBusy) return;
  looks.isBusy = true;
  const isKept = await keep(chosenOf(state.known.marking).marks);
  looks.isBusy = false;
  if (!isKept || !state.known.marking?.closeUp) return;
  if (CLOSE_UP[step]) lookClose(state, CLOSE_UP[step]);
  else lookBack(state);
}

export const forgetLook = () => { looks.before = null; };
