import { changeFigure, markFigure, removeFigure } from "../api/figures.js";
import { attempt, say } from "../elements/slips.js";
import { bodyOf, chosenOf, kept, replaced, without } from "./figures_mark_model.js";

/** What is under way is no longer at hand, so that no second key sends it again; refused, it is there as before. */
export async function keepIfWhole(state) {
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

export async function patch(state, fields) {
  const figure = chosenOf(state.known.marking);
  const changed = figure && await attempt(() => changeFigure(figure, fields));
  if (changed && state.known.marking) state.set({ marking: replaced(state.known.marking, changed) });
  return Boolean(changed);
}

export async function remove(state) {
  const figure = chosenOf(state.known.marking);
  if (!figure || !(await attempt(() => removeFigure(figure)))) return;
  state.set({ marking: without(state.known.marking, figure.id) });
  say("The figure's marks are gone.");
}
