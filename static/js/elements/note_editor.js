import { alongWith, nudged, spoken } from "../gestures/nudge_region.js";
import { button, h, word } from "./h.js";
import { whisper } from "./slips.js";
import { TONES, toneWord } from "./tone_mark.js";

/**
 * A note being written (or changed), on its own paper in the margin.
 * @param {{region: any, tone: string, body: string, note?: any, scopeWords: string}} draft
 * @param {{onChange: (fields: object) => void, onSend: (held: boolean) => void, onDrop: () => void, mayHold: boolean}} desk
 */
export function noteEditor(draft, desk) {
  const area = h("textarea", {
    class: "written", rows: "3", "aria-label": "What you want to say", "data-key": "draft-body", value: draft.body,
    placeholder: "What you see, and what would help", oninput: () => desk.onChange({ body: area.value }),
  });
  area.addEventListener("keydown", (event) => {
    if (event.key === "Escape") desk.onDrop();
    if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) desk.onSend(false);
  });
  const rubricPlace = h("div");
  if (desk.rubric?.length) import("./criterion_picker.js").then(({ criterionPicker }) => rubricPlace.append(criterionPicker(draft, desk)));
  return h("form", { class: "note-editor", "aria-label": draft.note ? "Change the note" : "New note", onsubmit: (event) => event.preventDefault() },
    tonePicker(draft.tone, (tone) => desk.onChange({ tone })),
    area,
    desk.rubric?.length > 0 && rubricPlace,
    h("p", { class: "hint draft-place" }, draft.scopeWords),
    draft.region && placeByKeys(draft, desk),
    desk.onDraw && word(draft.lines?.length ? "Draw more" : "Draw over the page", desk.onDraw, { "data-key": "draft-draw" }),
    h("div", { class: "buttons" },
      button(draft.note ? "Save" : "Pin it", () => desk.onSend(false), { class: "button first", "data-key": "draft-pin" }),
      desk.mayHold && button("Hold it", () => desk.onSend(true), { "data-key": "draft-hold", title: "Yours alone until you send what you hold" }),
      word("Never mind", desk.onDrop, { "data-key": "draft-drop" })));
}

function tonePicker(chosen, onChoose) {
  return h("fieldset", { class: "tones" }, h("legend", { class: "out-of-sight" }, "Tone"), TONES.map(([tone, meaning]) =>
    h("label", { title: meaning },
      h("input", { type: "radio", name: "tone", value: tone, checked: tone === chosen, "data-key": `tone-${tone}`, onchange: () => onChoose(tone) }),
      toneWord(tone))));
}

/** Moves and sizes the region without a pointer: the button takes arrow keys while it is pressed in. */
function placeByKeys(draft, desk) {
  const adjust = word("Move or size the region by arrow keys", () => {
    // Kept with the draft: each move draws the editor anew.
    draft.isBeingPlaced = !draft.isBeingPlaced;
    adjust.setAttribute("aria-pressed", String(draft.isBeingPlaced));
    if (draft.isBeingPlaced) whisper("Arrow keys move the region, Shift with arrow keys sizes it. Enter ends.");
  }, { "aria-pressed": String(Boolean(draft.isBeingPlaced)), "data-key": "draft-place" });
  adjust.addEventListener("keydown", (event) => {
    const region = draft.isBeingPlaced ? nudged(draft.region, event) : null;
    const lines = region && draft.lines?.length && !event.shiftKey ? alongWith(draft.lines, draft.region, region) : draft.lines;
    if (!region) return;
    event.preventDefault();
    event.stopPropagation();
    desk.onChange({ region, lines });
    whisper(spoken(region));
  });
  return adjust;
}
