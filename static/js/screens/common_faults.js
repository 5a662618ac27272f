import { h, svg, word } from "../elements/h.js";
import { howMeasured } from "../elements/how_measured.js";
import { shareNoteDialog } from "./share_note_dialog.js";

/** What the class has in common: kinds of findings by how many students have them. */
export function commonFaults(desk) {
  const { told } = desk;
  return h("section", { class: "part", "aria-labelledby": "faults-head" }, h("h2", { id: "faults-head" }, "What the class has in common"),
    told.common_faults.length
      ? h("ul", { class: "faults" }, told.common_faults.map((one) => faultRow(one, told.rows.length, desk)))
      : h("p", { class: "quiet" }, "No finding is open on any work."),
    h("p", { class: "hint" }, "By students who have it, not by notes. A measured note can be wrong, and a distortion can be meant."));
}

function faultRow(one, students, desk) {
  return h("li", {},
    one.principle ? h("img", { class: "principle", src: one.principle, alt: "" }) : h("span", {}),
    h("div", { class: "fault-words" },
      h("span", {}, h("strong", {}, one.label), " ", h("span", { class: "figure" }, `${one.students} of ${students}`), " students"),
      bar(one.students, students),
      howMeasured(one.kind),
      word(one.students === 1 ? "Give a note to the one who has it" : `Give a note to all ${one.students}`, () => shareNoteDialog(desk, one), { "data-key": `share-${one.kind}`, "aria-label": `Give a note to all ${one.students} who have: ${one.label}` })));
}

const bar = (have, all) => svg("svg", { class: "fault-bar", viewBox: "0 0 400 12", preserveAspectRatio: "none", "aria-hidden": "true" },
  svg("rect", { class: "have-it", x: 0, y: 1, width: (400 * have) / all, height: 10 }),
  svg("rect", { class: "of-all", x: 0.5, y: 0.5, width: 399, height: 11 }));
