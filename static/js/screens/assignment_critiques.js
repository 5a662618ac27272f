import { h } from "../elements/h.js";
import { stageWord } from "../elements/stage_mark.js";
import { toneWord } from "../elements/tone_mark.js";
import { when } from "../elements/words.js";

const TONE = { works: ["keep", "what works"], change: ["try", "what to change"], ask: ["ask", "a question"] };

/** Critiques that one writes and that one was given; to instructors all of them, with both names. */
export function critiquesPart(critiques, shell) {
  const written = critiques.filter((one) => one.side === "writes").sort((one, other) => one.label.localeCompare(other.label, undefined, { numeric: true }));
  const received = critiques.filter((one) => one.side === "receives");
  if (shell.instructs) return critiques.length > 0 && h("section", { class: "part" }, h("h2", {}, "Critiques"), byRound(critiques).map(roundOfCritiques));
  if (!critiques.length) return null;
  return h("section", { class: "part" }, h("h2", {}, "Critique"),
    written.length > 0 && [h("h3", {}, "You read"), h("ul", { class: "told" }, written.map(writtenRow))],
    received.length > 0 && [h("h3", {}, "You were given"), h("ul", { class: "told" }, received.map(receivedRow))]);
}

/** The newest round first; in each those that wait to be sent, then by who writes. @param {any[]} critiques @returns {any[][]} */
export function byRound(critiques) {
  const rounds = new Map();
  for (const one of critiques) rounds.set(one.round, [...(rounds.get(one.round) ?? []), one]);
  const order = (one, other) => Number(one.is_sent) - Number(other.is_sent) || one.written_by.localeCompare(other.written_by);
  return [...rounds].sort(([one], [other]) => other - one).map(([, ofRound]) => ofRound.sort(order));
}

function roundOfCritiques(critiques) {
  const [{ stage, due_at, delivered_at }] = critiques;
  return [h("h3", { class: "in-line" }, stageWord(stage), delivered_at ? `delivered ${when(delivered_at)}` : `until ${when(due_at)}`),
    h("ul", { class: "told" }, critiques.map(namedRow))];
}

function namedRow(one) {
  return h("li", {}, h("a", { href: `/critiques/${one.id}` }, `${one.written_by || "somebody who left"} on ${one.about ?? "work that is deleted"}`),
    h("span", { class: "quiet small" }, one.delivered_at && one.is_sent ? "delivered" : one.is_sent ? "sent, waits for the end of the round" : "not sent yet"));
}

function writtenRow(one) {
  const sent = one.delivered_at ? `delivered ${when(one.delivered_at)}` : "sent; it waits for the end of the round";
  const due = isGone(one) ? "not asked for any more" : `due ${when(one.due_at)}`;
  const state = one.is_sent ? sent : one.delivered_at ? "not sent; the round is over" : due;
  return h("li", {}, h("a", { href: `/critiques/${one.id}` }, one.label), h("span", { class: "quiet small in-line" }, stageWord(one.stage), state, isGone(one) && "; the work is gone"));
}

/** Whose work it was took it back, or left: which of the two is told to nobody who reads it without a name. */
export const isGone = ({ pages }) => pages.length > 0 && pages.every((page) => !page.picture);

/** In full, where one looks for it; the same words stand as notes on the pages. */
function receivedRow(one) {
  return h("li", {}, h("strong", {}, `From ${one.written_by}`), one.points.filter((point) => point.body).map(pointWords),
    h("a", { class: "small", href: `/critiques/${one.id}` }, "See it beside your pages"));
}

export function pointWords(point) {
  const [tone, words] = TONE[point.kind];
  return h("div", {}, h("p", { class: "in-line" }, toneWord(tone, words), point.page ? h("span", { class: "quiet small" }, `page ${point.page}`) : null), h("p", { class: "words" }, point.body),
    point.why && h("p", { class: "words" }, h("strong", {}, "Why: "), point.why), point.how && h("p", { class: "words" }, h("strong", {}, "How: "), point.how));
}
