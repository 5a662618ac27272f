import { h } from "../elements/h.js";
import { stageWord } from "../elements/stage_mark.js";
import { count, when } from "../elements/words.js";

/** Parts of the Assignment that all see alike. */

const SHOWN = { "at-once": "at once", "after-hand-in": "after the hand-in of their stage", "to-instructor": "to the instructor only" };

export function briefPart(one) {
  const row = (name, ...value) => [h("dt", {}, name), h("dd", {}, ...value)];
  return h("section", { class: "part" }, h("h2", {}, "Brief"),
    h("p", { class: "words" }, one.brief || "No brief is written."),
    h("dl", { class: "facts" },
      row("Pages", `${count(one.page_count, "page")}, ${one.trim_width_mm} × ${one.trim_height_mm} mm, read ${one.reading === "rtl" ? "right to left" : "left to right"}${one.is_bound ? "" : ", following one another"}`),
      row("Stages", one.stages.map((stage) => h("span", { class: "sub in-line" }, stageWord(stage.stage), `until ${when(stage.due_at)}`))),
      row("Late work", lateWords(one)),
      row("Cast", one.cast_is_given ? "given" : "free"), row("Set", one.set_is_given ? "given" : "free"),
      row("Measured notes", `shown ${SHOWN[one.measured_shown]}`)));
}

function lateWords({ grace_minutes, late_days }) {
  const grace = grace_minutes ? `${grace_minutes} minutes of grace; ` : "";
  if (late_days === null) return `${grace}taken as late without end`;
  return late_days ? `${grace}taken as late for ${count(late_days, "day")}` : `${grace}not taken`;
}

export function rubricPart(one, marks = []) {
  if (!one.rubric.length) return null;
  const given = new Map(marks.map((mark) => [mark.criterion, mark]));
  return h("section", { class: "part" }, h("h2", {}, "Rubric"), h("ul", { class: "rubric" }, one.rubric.map((line) => {
    const mark = given.get(line.id);
    return h("li", {}, h("strong", {}, line.title), line.asks && h("span", {}, line.asks),
      mark && h("span", { class: "words" }, h("em", {}, mark.word), mark.word && mark.comment && ": ", mark.comment));
  })));
}

/** @param {any[]} opened @param {(one: any) => any} [below] what an instructor may do with each @param {any} [foot] */
export function openedPart(opened, below = () => null, foot = null) {
  if (!opened.length && !foot) return null;
  return h("section", { class: "part" }, h("h2", {}, "Opened to the class"), h("p", { class: "hint" }, "Pages that the instructor shows to all, without a name."),
    h("div", { class: "leaves" }, opened.map((one) => h("div", {}, h("a", { class: "leaf", href: one.picture }, h("img", { src: one.picture, alt: `An opened page, ${one.stage}`, loading: "lazy" })), below(one)))), foot);
}
