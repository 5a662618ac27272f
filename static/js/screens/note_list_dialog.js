import { openDialog } from "../elements/dialog.js";
import { choice, field } from "../elements/field.js";
import { h } from "../elements/h.js";
import { STATE_WORDS, count } from "../elements/words.js";
import { noteRows } from "./note_rows.js";
import { pickNote } from "./pick_note.js";

const BY = [["panel", "panel"], ["state", "state"], ["tone", "tone"]];
const STATES = Object.keys(STATE_WORDS);
const TONES = ["must", "try", "ask", "keep", "measured"];
const ASTRAY = 999; // behind every panel
const last = { by: "panel" };

/** All notes of the page in one list, by panel, by state or by tone. */
export function noteListDialog(state) {
  const { known } = state;
  openDialog(`Notes on page ${known.page.numbers.join("-")}: ${known.notes.length}`, (close) => {
    const list = h("div", { class: "stack" });
    const pick = choice(BY, last.by, { onchange: () => show() });
    const show = () => {
      last.by = pick.value;
      const groups = groupsOf(known.notes, pick.value);
      list.replaceChildren(...(groups.length ? groups.map(([name, notes]) => section(name, notes)) : [h("p", { class: "quiet" }, "There is no note on this page yet.")]));
    };
    const section = (name, notes) => h("section", { class: "note-group" }, h("h3", {}, name, h("span", { class: "quiet small" }, ` ${count(notes.length, "note")}`)),
      noteRows(notes, (note) => {
        close();
        pickNote(state, note);
      }));
    show();
    return [field("Listed by", pick), list];
  }, { isWide: true });
}

/** [name, notes] in reading order, by how far they are, or by how pressing. */
export function groupsOf(notes, by) {
  const keyOf = { panel: (note) => (note.astray ? ASTRAY : note.panel_order ?? 0), state: (note) => STATES.indexOf(note.state), tone: (note) => TONES.indexOf(note.source === "measured" ? "measured" : note.tone) }[by];
  const nameOf = { panel: (key) => (key === ASTRAY ? "Not on this picture" : key ? `Panel ${key}` : "On the page"), state: (key) => capital(STATES[key]), tone: (key) => capital(TONES[key]) }[by];
  const groups = new Map();
  for (const note of notes) groups.set(keyOf(note), [...(groups.get(keyOf(note)) ?? []), note]);
  return [...groups].sort(([a], [b]) => a - b).map(([key, some]) => [nameOf(key), some]);
}

const capital = (text) => text[0].toUpperCase() + text.slice(1);
