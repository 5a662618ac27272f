import { readAssignment, readCritique, sendCritique, takeBackCritique } from "../api/assignments.js";
import { button, h, swap } from "../elements/h.js";
import { readingCame, readingFailed } from "../elements/readings.js";
import { attempt, say } from "../elements/slips.js";
import { when } from "../elements/words.js";
import { isGone, pointWords } from "./assignment_critiques.js";
import { keeper } from "./critique_kept.js";
import { hasWords } from "./critique_merge.js";
import { pointFields } from "./critique_point.js";
import { workPages } from "./critique_pages.js";

const shell = JSON.parse(document.getElementById("shell").textContent);
const at = (id) => document.getElementById(id);
const EMPTY = { body: "", why: "", how: "", page: null, region: null, criterion: null };

const known = {};
load();

async function load() {
  try {
    const one = await readCritique(shell.critique);
    begin(one, (await readAssignment(one.assignment)).rubric);
    readingCame();
  } catch (error) {
    readingFailed(error, "critique", load);
  }
}

function begin(one, rubric) {
  at("critique").setAttribute("aria-busy", "false");
  Object.assign(known, { one, rubric });
  known.points = one.points.length ? one.points : ["works", "change", "ask"].map((kind) => ({ kind, ...EMPTY }));
  known.pages = workPages(one.pages);
  known.keeper = one.side === "writes" && keeper(known, `critique ${one.id} by ${shell.me.id}`, { kept, notYet, came: show });
  if (known.keeper) known.keeper.takeUp();
  show();
}

function show() {
  const { one, points, pages } = known;
  pages.stop();
  known.maySay = one.side === "writes" && !one.is_sent && !one.delivered_at;
  at("critique-state").textContent = stateWords(one);
  pages.mark(points);
  swap(at("critique"), pages.element, known.maySay ? writing() : reading());
}

function stateWords(one) {
  const { side, is_sent, delivered_at, due_at, written_by, is_anonymous, signed_as, about } = one;
  if (side === "receives") return `From ${written_by}.`;
  if (side === "instructs") return `${written_by || "Somebody who left"} on ${about ?? "work that is deleted"}${is_sent ? "" : ", not sent yet"}.`;
  if (isGone(one)) return `The work is gone; what you wrote stays in your list.${is_sent || delivered_at ? "" : " You need not finish it."}`;
  if (delivered_at) return is_sent ? "Delivered. Thank you." : "The round is over; this was not sent.";
  return is_sent ? "Sent. It is delivered with all others when the round ends." : `Due ${when(due_at)}. Whose work this is stays unsaid. ${is_anonymous ? "Your name is not shown." : `It is sent under the name ${signed_as}.`}`;
}

function reading() {
  const { one, points } = known;
  const takeBack = () => attempt(() => takeBackCritique(one.id)).then((answer) => answer && take(answer));
  return h("div", { class: "points" }, points.filter((point) => point.body).map((point) => h("div", { class: "point" }, pointWords(point))),
    known.apart?.length > 0 && apart(),
    one.side === "writes" && one.is_sent && !one.delivered_at && h("div", { class: "buttons" }, button("Take it back to change it", takeBack, { "data-key": "take-back" })));
}

/** What was written here while it was sent or delivered without it. */
function apart() {
  const { one } = known;
  const letGo = () => {
    known.keeper.letGo();
    show();
  };
  return h("section", { class: "points" },
    h("p", { class: "fault", role: "status" }, `This did not go along: ${one.delivered_at ? "the round was over before it arrived" : "it was written after the critique was sent. Take it back to add it"}. It is kept in this browser alone.`),
    known.apart.map((point) => h("div", { class: "point" }, pointWords(point))),
    h("div", { class: "buttons" }, button("Leave it out", letGo, { "data-key": "let-go" })));
}

function writing() {
  const { points, rubric, one, pages } = known;
  known.lacks = h("p", { class: "hint", role: "status" }, one.lacks);
  known.send = button("Send it", send, { class: "button first", "data-key": "send" });
  known.send.disabled = Boolean(one.lacks);
  const desk = { rubric, pages, count: one.pages.length, changed, dropped };
  return h("form", { class: "points", onsubmit: (event) => event.preventDefault() },
    h("p", { class: "hint" }, "Say what you see, not who drew it. Be as exact as you would like others to be with you."),
    points.map((point, place) => pointFields(point, place, desk)),
    h("div", { class: "buttons" }, [["works", "One more that works"], ["change", "One more to change"], ["ask", "One more question"]].map(([kind, words]) => button(words, () => add(kind), { "data-key": `add-${kind}` }))),
    h("div", { class: "critique-foot" }, known.lacks, h("div", { class: "buttons" }, known.send, h("span", { class: "quiet small", id: "saved", role: "status" }))));
}

function add(kind) {
  known.points.push({ kind, ...EMPTY });
  show();
  document.querySelector(`[data-key="body-${known.points.length - 1}"]`)?.focus();
}

function dropped(point) {
  const place = known.points.indexOf(point);
  known.points = known.points.filter((one) => one !== point);
  show();
  changed();
  const at = Math.min(place, known.points.length - 1);
  /** @type {HTMLElement|null} */ (document.querySelector(`[data-key="${at < 0 ? "add-works" : `drop-${at}`}"]`))?.focus();
  if (hasWords(point)) say("Left out.", { way: ["Undo", () => putBack(point, place)] });
}

function putBack(point, place) {
  if (!known.maySay) return;
  known.points.splice(place, 0, point);
  show();
  changed();
  /** @type {HTMLElement|null} */ (document.querySelector(`[data-key="drop-${place}"]`))?.focus();
}

function changed() {
  known.pages.mark(known.points);
  at("saved")?.replaceChildren("…");
  known.keeper.changed();
}

function kept() {
  known.lacks.textContent = known.one.lacks;
  known.send.disabled = Boolean(known.one.lacks);
  at("saved")?.replaceChildren("Kept.");
}

function notYet() {
  at("saved")?.replaceChildren("Not on the server yet.");
}

async function send() {
  known.pages.stop();
  if (!(await known.keeper.save()) || !known.maySay) return;
  const answer = await attempt(() => sendCritique(known.one.id), { done: "Sent." });
  if (answer) take(answer);
}

function take(answer) {
  known.keeper.arrived(answer);
  show();
}
