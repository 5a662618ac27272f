import { openDialog } from "../elements/dialog.js";
import { h } from "../elements/h.js";
import { lettersAreEverywhere, setLettersEverywhere } from "../gestures/keys.js";

const NAMES = { ArrowLeft: "← → ↑ ↓", Escape: "Esc" };

/** All keys of the Desk, by what they are for. @param {{part: string, keys: string[], words: string}[]} table */
export function keysDialog(table) {
  const everywhere = h("input", { type: "checkbox", checked: lettersAreEverywhere(), onchange: () => setLettersEverywhere(everywhere.checked) });
  const parts = [...new Set(table.map(({ part }) => part))];
  openDialog("Keys on the Desk", () => [
    h("div", { class: "keys-parts" }, parts.map((part) => h("section", {}, h("h3", {}, part),
      h("dl", { class: "keys" }, table.filter((row) => row.part === part && row.words).flatMap(({ keys, words }) => [
        h("dt", {}, keys.map((key) => h("kbd", {}, NAMES[key] ?? key.toUpperCase()))), h("dd", {}, words),
      ]))))),
    h("div", { class: "choices" }, h("label", {}, everywhere, "Single keys work everywhere on the Desk, not only on the picture")),
    h("p", { class: "hint" }, "While drawing: R region, L free outline, I spot, W arrow, D stroke. Arrow keys move the cross, Shift further and Alt finer; Enter sets, Backspace takes off, Esc ends."),
    h("p", { class: "hint" }, "With the mouse: drag to pin a note on a region, Shift and click for a spot, Alt and drag to move the picture, wheel to zoom, with Shift to move up and down. By touch: one finger moves, two zoom. With “Pin by taps” one tap pins a spot, a second one the opposite corner of a region."),
  ], { isWide: true });
}
