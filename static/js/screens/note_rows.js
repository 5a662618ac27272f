import { h } from "../elements/h.js";
import { toneMark } from "../elements/tone_mark.js";
import { STATE_WORDS, figure, nameOf } from "../elements/words.js";

/** Notes as short lines that lead to each. @param {any[]} notes @param {(note: any) => void} onPick */
export function noteRows(notes, onPick) {
  return h("ul", { class: "note-rows" }, notes.map((note) => h("li", {}, h("button", {
    type: "button", class: "note-row", "data-key": `row-${note.id}`, onclick: () => onPick(note),
  },
    h("span", { class: "note-row-mark", "data-source": note.source }, note.source === "measured" ? [toneMark("measured"), h("span", { class: "out-of-sight" }, "measured")] : [toneMark(note.tone), note.tone]),
    h("span", { class: "note-row-words", dir: "auto" }, note.source === "measured" ? measuredWords(note) : note.body),
    h("span", { class: "quiet small" }, [note.source === "person" && (note.pen_name || nameOf(note.author)), STATE_WORDS[note.state]].filter(Boolean).join(", "))))));
}

const measuredWords = ({ finding, check_label }) => (finding ? `${finding.label}: ${figure(finding.measured, finding.unit)}` : check_label);
