import { choice, field } from "../elements/field.js";
import { h, word } from "../elements/h.js";
import { toneWord } from "../elements/tone_mark.js";

const KINDS = {
  works: ["keep", "What works", "What you would keep, and what it does for a reader", false],
  change: ["try", "What to change", "What you see there", true],
  ask: ["ask", "A question", "What you wonder about", false],
};

/** One point of a critique: what, and for a change also why and how; where, and by which criterion. */
export function pointFields(point, place, desk) {
  const [tone, words, label, asksWhy] = KINDS[point.kind];
  const text = (name, label, help) => field(label, h("textarea", {
    rows: "2", value: point[name], "data-key": `${name}-${place}`, oninput: ({ target }) => {
      point[name] = target.value;
      desk.changed();
    },
  }), help);
  return h("fieldset", { class: "point" }, h("legend", { class: "out-of-sight" }, words),
    h("div", { class: "point-head" }, toneWord(tone, words), word("Leave it out", () => desk.dropped(point), { "aria-label": `Leave this point out: ${words}`, "data-key": `drop-${place}` })),
    text("body", label),
    asksWhy && [text("why", "Why", "How a reader would feel it"), text("how", "How", "One way to do it; the choice is the artist's")],
    h("div", { class: "point-foot" }, whereOf(point, place, desk), desk.rubric.length > 0 && criterionOf(point, place, desk)));
}

function whereOf(point, place, desk) {
  const said = h("span", { class: "small quiet" }, whereWords(point));
  let isOn = false;
  const tell = (on) => {
    isOn = on;
    put.textContent = on ? "Leave it" : "Show where";
    said.textContent = on ? "Tap the spot on the page." : whereWords(point);
  };
  const done = (isShown) => {
    tell(false);
    if (isShown) desk.changed();
  };
  const put = word("Show where", () => {
    if (isOn) desk.pages.stop();
    else if (desk.pages.place(point, done)) tell(true);
  }, { "data-key": `where-${place}` });
  return h("span", {}, put, " ", said);
}

const whereWords = ({ page, region }) => (region ? `a spot on page ${page}` : page ? `page ${page}` : "on the whole");

function criterionOf(point, place, desk) {
  const select = choice([["", "no criterion"], ...desk.rubric.map((one) => [one.id, one.title])], point.criterion ?? "", {
    "aria-label": "Criterion", class: "written", "data-key": `criterion-${place}`, onchange: () => {
      point.criterion = select.value ? Number(select.value) : null;
      desk.changed();
    },
  });
  return select;
}
