import { changeFigure, figuresOn, markFigure, removeFigure } from "../api/figures.js";
import { attempt, say } from "../elements/slips.js";
import { begunAgain, bodyOf, chosenOf, kept, onItsWay, read, replaced, without } from "./figures_mark_model.js";

/** What the server has of each figure, and what it was not told yet, oldest first. */
const rows = new Map();
const waiting = [];
let last = Promise.resolve();

/** One write after the other, each on the version that the one before left: keys may be quicker than answers. */
export function inTurn(write) {
  const mine = last.then(write);
  const ended = mine.catch(() => {}).then(() => showBusy(last !== ended));
  last = ended;
  showBusy(true);
  return mine;
}

const showBusy = (isBusy) => document.querySelector(".figures-mark")?.classList.toggle("is-being-kept", isBusy);

/** As the server has them, with what is still on its way there. */
export async function readFigures(revision) {
  const figures = await figuresOn(revision);
  for (const row of figures) rows.set(row.id, row);
  return figures.map(shown);
}

const shown = (row) => Object.assign({}, row, ...waiting.filter(({ id }) => id === row.id).map(({ fields }) => fields));

/** It is at hand at once, and what is done to it meanwhile follows it; refused, it is under way as before. */
export async function keepIfWhole(state) {
  const { marking } = state.known;
  const body = bodyOf(marking);
  if (!body) return;
  const figure = onItsWay(body);
  state.set({ marking: kept(marking, figure) });
  await inTurn(async () => {
    const row = await attempt(() => markFigure(marking.revision, body));
    if (row) rows.set(row.id, row);
    for (const one of waiting) if (row && one.id === figure.id) one.id = row.id;
    show(state, marking, (now) => (row ? replaced(now, shown(row), figure.id) : begunAgain(now, figure.id, marking)));
  });
}

/** @returns {Promise<boolean>} whether the chosen figure was changed */
export async function patch(state, fields) {
  const figure = chosenOf(state.known.marking);
  if (!figure) return false;
  state.set({ marking: replaced(state.known.marking, { ...figure, ...fields }) });
  return write(state, figure, fields, (row) => changeFigure(row, fields));
}

export async function remove(state, figure = chosenOf(state.known.marking)) {
  if (!figure) return;
  state.set({ marking: without(state.known.marking, figure.id) });
  if (await write(state, figure, {}, removeFigure)) say("The figure's marks are gone.");
}

/** Shown already; what is refused is shown again as the server has it. @returns {Promise<boolean>} whether it was kept */
function write(state, figure, fields, send) {
  const { marking } = state.known;
  const mine = { id: figure.id, fields };
  waiting.push(mine);
  return inTurn(async () => {
    const row = rows.get(mine.id); // none where the figure itself was refused
    const answer = row && (await attempt(() => send(row)));
    waiting.splice(waiting.indexOf(mine), 1);
    if (answer?.id) {
      rows.set(answer.id, answer);
      show(state, marking, (now) => replaced(now, shown(answer)));
    } else if (row && !answer) {
      const fresh = await attempt(() => readFigures(marking.revision));
      if (fresh) show(state, marking, (now) => read(now, fresh));
    }
    return Boolean(answer);
  });
}

/** On the picture that it was done on, if that still lies there. */
function show(state, { revision }, change) {
  const now = state.known.marking;
  if (now?.revision === revision) state.set({ marking: change(now) });
}
