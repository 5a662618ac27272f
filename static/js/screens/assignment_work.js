import { handIn } from "../api/assignments.js";
import { askFirst } from "../elements/dialog.js";
import { button, h } from "../elements/h.js";
import { attempt } from "../elements/slips.js";
import { stageWord } from "../elements/stage_mark.js";
import { spell } from "../elements/time_fields.js";
import { unopenedWords, when } from "../elements/words.js";
import { untilOnlineOr } from "../uploads/queue.js";
import { dueWords, handInWords, isPast, wouldBeLate } from "./deadline_words.js";

const ASKED_AGAIN_S = 2;

/** A student's own work: its pages, and the stages to hand in. */

export function pagesPart(pages) {
  return h("section", { class: "part" }, h("h2", {}, "Your pages"), h("div", { class: "leaves" }, pages.map((page) => {
    const picture = page.current_revision?.renditions.at(0);
    return h("a", { class: "leaf", href: `/pages/${page.id}` },
      picture ? h("img", { src: picture.url, alt: "", width: picture.width_px, height: picture.height_px }) : h("span", { class: "blank" }, "Nothing is drawn here yet"),
      h("span", {}, `Page ${page.numbers.join("-")} `), h("span", { class: "small" }, stageWord(page.stage)), page.is_open_to_students && h("span", { class: "small" }, "open to the class"),
      page.refused_upload && h("span", { class: "fault small" }, unopenedWords(page.refused_upload)));
  })),
    pages.some((page) => page.is_open_to_students) && h("p", { class: "hint" }, "What is open to the class is shown there without your name: as you handed it in last, and until then as it stands."),
    h("p", { class: "hint" }, "Open a page to upload its picture, and to read the notes on it."));
}

/** @param {any} work @param {number} graceMinutes @param {() => void} changed */
export function stagesPart(work, graceMinutes, changed) {
  const now = new Date();
  return h("section", { class: "part" }, h("h2", {}, "Hand in"), work.stages.map((one) => stageRow(one, work, graceMinutes, changed)),
    work.stages.some((one) => isPast(one, now) && one.refusal?.code !== "too-late") && h("p", { class: "hint" }, "Need more time? Ask your instructor."),
    h("p", { class: "hint" }, "A hand-in takes all your pages at that stage, and gives you a receipt. What you hand in last counts."));
}

function stageRow(one, work, graceMinutes, changed) {
  const { handed_in: done, refusal } = one;
  const due = dueWords(one, graceMinutes, new Date());
  const state = done
    ? h("span", {}, h("a", { href: `/hand-ins/${done.id}` }, `Receipt ${done.receipt}`), h("span", { class: "sub" }, `${when(done.handed_in_at)}${done.minutes_late ? `, ${spell(done.minutes_late)} late` : ", in time"}`))
    : h("span", { class: "quiet" }, "not handed in yet");
  return h("div", { class: "stage-row" },
    h("div", { class: "line" }, h("h3", {}, stageWord(one.stage)), h("span", { class: "quiet" }, due)),
    h("div", { class: "line" }, state, (!refusal || isBeingRead(refusal)) && button(done ? "Hand in again" : `Hand in the ${one.stage}s`, (event) => send(work, one, graceMinutes, changed, event.currentTarget), { class: done ? "button" : "button first", "data-key": `hand-in-${one.stage}` })),
    handInWords(one).map((words) => h("p", { class: "hint" }, words)));
}

const isBeingRead = ({ code }) => code === "being-read";

/** What nobody has read yet may turn out to be no picture: it is handed in as soon as it was read. */
async function handInOnceRead(work, stage, pressed) {
  for (;;) {
    try {
      return await handIn(work.id, stage);
    } catch (problem) {
      // Once it waits, it waits through a line that breaks too.
      if (!(isBeingRead(problem) || (pressed.disabled && problem.isUnanswered)) || !pressed.isConnected) throw problem;
      Object.assign(pressed, { disabled: true, textContent: "Handed in once it is read …" });
      await untilOnlineOr(ASKED_AGAIN_S);
    }
  }
}

/** Asks first where it would make late what is in time. */
function send(work, one, graceMinutes, changed, pressed) {
  const doIt = async () => {
    const receipt = await attempt(() => handInOnceRead(work, one.stage, pressed));
    if (receipt) location.assign(`/hand-ins/${receipt.id}`);
    else changed();
  };
  const late = wouldBeLate(one, graceMinutes, new Date());
  if (!late) return doIt();
  return askFirst("Hand in late?", `The deadline is past: this would count as ${spell(late)} late. What you handed in ${when(one.handed_in.handed_in_at)} is in time, and what you hand in last counts.`, "Hand in all the same", doIt);
}
