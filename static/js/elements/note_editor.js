import { button, h, word } from "./h.js";
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
    draft.region && placedByKeys(draft, desk),
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

const taken = { byKeys: null };

/** What places the region by keys comes with the first note that has one. */
function placedByKeys(draft, desk) {
  if (taken.byKeys) return taken.byKeys(draft, desk);
  const place = h("span", { hidden: true });
  import("./place_by_keys.js").then(({ placeByKeys }) => {
    taken.byKeys = placeByKeys;
    place.replaceWith(placeByKeys(draft, desk));
  });
  return place;
}
