import { choice } from "../elements/field.js";
import { h, swap } from "../elements/h.js";
import { isClosed, when } from "../elements/words.js";
import { canRegister, comparable, isRegistered, nameOfRevision } from "./compare_facts.js";
import { choosePair } from "./compare_load.js";

/** Which two lie on the table, whether they are laid on one another or left as they were uploaded, and whether notes are seen with them. */
export function showPair(state, place) {
  state.on(["older", "newer", "revisions", "steps", "wantsRegistered", "isLoaded", "notes", "showsNotes"], (known) => {
    if (!known.isLoaded) return;
    swap(place, ...(known.newer ? pairItems(state) : [teach()]));
  });
}

function pairItems(state) {
  const { known } = state;
  return [
    picker(state, "older", (id) => choosePair(state, id, known.newer.id)),
    h("span", { class: "pair-then quiet" }, "then"),
    picker(state, "newer", (id) => choosePair(state, known.older.id, id)),
    registered(state),
    known.notes.length > 0 && notesSeen(state),
  ];
}

function picker(state, side, onChoose) {
  const { known } = state;
  const other = known[side === "older" ? "newer" : "older"];
  const rows = comparable(known.revisions).filter((one) => one.id !== other.id);
  const select = choice([...rows].reverse().map((one) => [one.id, nameOfRevision(one)]), known[side].id, {
    "aria-label": side === "older" ? "Older revision" : "Newer revision", "data-key": side, class: "pair-pick",
    title: when(known[side].uploaded_at), onchange: () => onChoose(Number(select.value)),
  });
  return select;
}

function registered(state) {
  const { known } = state;
  const words = canRegister(known) ? "Laid on one another" : known.steps ? "Nothing in common was found: they lie as uploaded" : "No map between these two: they lie as uploaded";
  const box = h("input", {
    type: "checkbox", checked: isRegistered(known), disabled: !canRegister(known), "data-key": "registered",
    onchange: () => state.set({ wantsRegistered: box.checked }),
  });
  return h("label", { class: "pair-choice", title: "Off: as they were uploaded, at the same width" }, box, words);
}

function notesSeen(state) {
  const { known } = state;
  const open = known.notes.filter((note) => !isClosed(note)).length;
  const box = h("input", { type: "checkbox", checked: known.showsNotes, "data-key": "notes-seen", onchange: () => state.set({ showsNotes: box.checked }) });
  return h("label", { class: "pair-choice", title: "Notes beside the sheets, and their marks on them" }, box, h("span", {}, "Notes ", open > 0 && h("span", { class: "figure" }, `(${open} open)`)));
}

const teach = () => h("p", { class: "quiet" }, "There are not two pictures of this page yet. When a second one is uploaded, they can be laid on one another here.");
