/** Figures that the worker found drawn again: asked about one after the other, answered by one key, taken back by another. Pure but for `answer`. */
import { answerProposal } from "../api/figures.js";
import { button, svg } from "../elements/h.js";
import { attempt, say } from "../elements/slips.js";
import { inTurn, readFigures } from "./figures_mark_kept.js";
import { endsOf, nameOf, read } from "./figures_mark_model.js";

const NEAR_PX = 14;
const SIDE_PX = 7;

export const askedOf = ({ proposals, asked }) => proposals.find((one) => one.id === asked) ?? null;

/** @param {object[]} all as read; those that wait are asked about at once */
export function withProposals(marking, all) {
  const proposals = all.filter(({ state }) => state === "proposed");
  return { ...marking, proposals, answered: [], asked: proposals[0]?.id ?? null };
}

/** Those whose marks could not be carried here; of who is just being asked about it is not said to mark them. */
export const lostOf = ({ figures, proposals }) =>
  figures.filter(({ id, placed_by: how }) => how === "lost" && !proposals.some((one) => isMended(one) && one.source_figure === id));

export const askedAbout = (marking, id) => ({ ...marking, asked: id, chosen: null, crown: null, sole: null, further: "", closeUp: "" });

/** Its answer is known: on to the next one. */
export function withAnswer(marking, proposal, figures) {
  const proposals = marking.proposals.filter((one) => one.id !== proposal.id);
  return { ...askedAbout(marking, proposals[0]?.id ?? null), proposals, figures, answered: [...marking.answered, proposal], chosen: proposal.figure };
}

/** The last answer was taken back, and is asked for again. */
export const takenBack = (marking, proposal, figures) =>
  ({ ...askedAbout(marking, proposal.id), figures, proposals: [proposal, ...marking.proposals], answered: marking.answered.slice(0, -1) });

export function proposalNear({ proposals }, [x, y], toPx) {
  return proposals.find((one) => endsOf(one)?.map(toPx).some(([px, py]) => Math.hypot(px - x, py - y) < NEAR_PX)) ?? null;
}

/** @returns what keys and buttons may do with proposals */
export function proposalDeeds(state) {
  let isBusy = false; // a second press answers nothing that was not seen yet
  const send = async (proposal, said, then, words) => {
    if (isBusy) return;
    isBusy = true;
    const { revision } = state.known.marking;
    const changed = await inTurn(() => attempt(() => answerProposal(proposal, said)));
    const figures = changed && (await attempt(() => readFigures(revision)));
    isBusy = false;
    const { marking } = state.known;
    if (!figures || marking?.revision !== revision) return;
    state.set({ marking: then(marking, changed, read(marking, figures).figures) });
    say(words);
  };
  return {
    answer: (said) => {
      const asked = askedOf(state.known.marking);
      const name = asked && nameOf(state.known.marking, asked.character);
      return asked && send(asked, said, withAnswer, said === "confirmed" ? `${name} is marked.` : notSo(asked, name));
    },
    undo: () => {
      const last = state.known.marking.answered.at(-1);
      return last && send(last, "proposed", takenBack, "Taken back: it is asked again.");
    },
    ask: (id) => state.set({ marking: askedAbout(state.known.marking, id) }),
  };
}

/** A look of their own: dotted, with open corners at crown and soles, and a question mark after the name. */
export function drawProposal(proposal, marking, toPx) {
  const ends = endsOf(proposal)?.map(toPx);
  if (!ends) return [];
  const kind = proposal.id === marking.asked ? " is-asked" : "";
  const corner = ([x, y]) => `M${x - SIDE_PX} ${y}L${x} ${y - SIDE_PX}L${x + SIDE_PX} ${y}L${x} ${y + SIDE_PX}Z`;
  return [
    svg("path", { class: `proposal-axis${kind}`, d: `M${ends[0].join(" ")}L${ends[1].join(" ")}` }),
    ...ends.map((end) => svg("path", { class: `proposal-end${kind}`, d: corner(end) })),
    svg("text", { class: "proposal-name", x: ends[0][0] + 10, y: ends[0][1] - 10 }, `${nameOf(marking, proposal.character)}?`),
  ];
}

const notSo = (proposal, name) => (isMended(proposal) ? `Then ${name} is marked by hand: its crown, then its soles.` : `That is not ${name}, and is not proposed again.`);

/** Its marks could not be carried here, and it seems to stand where it stood. */
const isMended = ({ found_by }) => found_by === "axis";

export const asks = (marking, proposal) => (isMended(proposal)
  ? `${nameOf(marking, proposal.character)} was drawn anew here. Do the two ends lie on its crown and its soles? Enter says they do, Delete that they do not; Escape leaves it open. Nothing is measured from it before.`
  : asksOf(marking, proposal));

const asksOf = (marking, { character, source_page: page, source_panel: panel }) =>
  `Is this ${nameOf(marking, character)}, as marked in ${panel ? `panel ${panel} of ` : ""}page ${page}? Enter says it is, Delete that it is not; Escape leaves it open. Nothing is measured from it before.`;

export function proposalTools(marking, deeds) {
  const asked = askedOf(marking);
  return [
    asked && button("It is (Enter)", () => deeds.answer("confirmed"), { class: "button first", "data-key": "proposal-yes" }),
    asked && button("It is not (Delete)", () => deeds.answer("refused"), { "data-key": "proposal-no" }),
    !asked && marking.proposals.length > 0 && button(`${marking.proposals.length} proposed`, () => deeds.ask(marking.proposals[0].id), { class: "button plain", "data-key": "proposals" }),
    marking.answered.length > 0 && button("Undo (,)", deeds.undo, { class: "button plain", "data-key": "proposal-undo" }),
  ];
}
