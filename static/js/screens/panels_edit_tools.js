import { button, h, swap, word } from "../elements/h.js";
import { chosenOf, hasChanged, mergeWith, remove, toPlace, undone } from "./panels_edit_model.js";

const SAYS = {
  shape: "Choose a panel; drag its corners and edges, or tap a corner and then where it belongs.",
  add: "Drag from corner to corner of the new panel, or tap one corner and then the other.",
  cut: "Draw the cut across the panel, or tap its two ends. By keys: arrows move it, Enter cuts.",
  merge: "Tap the panel to merge with.",
  exchange: "Tap the panel whose words and notes belong to this drawing; it gets those of this one.",
};

/** The ledge while panels are corrected. @param {{keep: () => void, drop: () => void, help: () => void}} deeds */
export function showEditTools(state, ledge, deeds) {
  const change = (edit) => state.set({ edit });
  state.on(["edit"], ({ edit }) => {
    if (!edit) return;
    const panel = chosenOf(edit);
    const place = edit.panels.indexOf(panel) + 1;
    const tool = (name, words, needs = true) => button(words, () => change({ ...edit, tool: edit.tool === name ? "shape" : name, line: null, corner: null }),
      { class: "button plain taps", "aria-pressed": String(edit.tool === name), disabled: !needs, "data-key": `tool-${name}` });
    const deed = (words, then, isPossible, key) => button(words, () => change(then()), { class: "button plain", disabled: !isPossible, "data-key": key });
    const next = edit.panels[place];
    swap(ledge, h("div", { class: "ledge" },
      tool("add", "Add"), tool("cut", "Cut in two", edit.panels.length > 0), tool("merge", "Merge with …", edit.panels.length > 1),
      tool("exchange", "Exchange with …", edit.panels.length > 1),
      deed("Merge with the next", () => mergeWith(edit, next.key), panel && next, "merge-next"),
      deed("Earlier", () => toPlace(edit, place - 1), panel && place > 1, "earlier"),
      deed("Later", () => toPlace(edit, place + 1), panel && next, "later"),
      deed("Delete", () => remove(edit), panel, "delete-panel"),
      deed("Undo", () => undone(edit), hasChanged(edit), "undo"),
      h("span", { class: "ledge-space" }),
      word("Keys", deeds.help, { "data-key": "edit-keys" }),
      button("Never mind", deeds.drop, { "data-key": "drop-panels" }),
      button("Keep these panels", deeds.keep, { class: "button first", "data-key": "keep-panels" })),
    h("p", { class: "small quiet", role: "status" }, SAYS[edit.tool]));
  });
}
