import { field } from "../elements/field.js";
import { h, word } from "../elements/h.js";
import { picturePart } from "../elements/picture_part.js";

/**
 * The parts of a sheet in a list, each with the page that it becomes. A row stays as long as its part: a button that is held down and a
 * number that is being typed are not drawn anew.
 * @param {{choose: (key: any) => void, give: (key: any, number: number|null) => void,
 *   words: (i: number, shown: (number|null)[]) => {words: string, isFault?: boolean}}} deeds
 */
export function partRows(rendition, deeds) {
  const element = h("ol", { class: "sheet-parts" });
  const rows = new Map();
  const rowOf = (key) => rows.get(key) ?? rows.set(key, partRow(key, rendition, deeds)).get(key);

  /** @param {import("./panels_edit_model.js").Edit} edit @param {(number|null)[]} shown the page of each part */
  function show(edit, shown) {
    const order = edit.panels.map((panel, i) => {
      const row = rowOf(panel.key);
      row.show(panel, i, { isChosen: panel.key === edit.chosen, number: shown[i], ...deeds.words(i, shown) });
      return row.element;
    });
    for (const old of [...element.children]) if (!order.includes(old)) old.remove();
    order.forEach((row, i) => { if (element.children[i] !== row) element.insertBefore(row, element.children[i] ?? null); });
  }
  return { element, show };
}

function partRow(key, rendition, { choose, give }) {
  const input = h("input", { type: "number", min: "1", max: "9999", inputmode: "numeric", "data-key": `part-${key}`,
    oninput: () => give(key, input.valueAsNumber > 0 ? Math.floor(input.valueAsNumber) : null),
    // The sheet is cut by its button alone.
    onkeydown: (event) => { if (event.key === "Enter") event.preventDefault(); } });
  const labelled = field("Part", input, "left out");
  const [label, hint] = [labelled.querySelector("label"), labelled.querySelector(".hint")];
  const chooses = word("Choose", () => choose(key), { "data-key": `choose-${key}` });
  let [picture, of] = [h("span"), null];
  const element = h("li", {}, picture, labelled, chooses);

  function show({ polygon }, i, { isChosen, number, words, isFault = false }) {
    element.classList.toggle("is-chosen", isChosen);
    if (polygon !== of) {
      const fresh = picturePart(rendition, polygon, { class: "sheet-part" });
      picture.replaceWith(fresh);
      [picture, of] = [fresh, polygon];
    }
    label.textContent = `Part ${i + 1} is page`;
    if (input !== document.activeElement) input.value = number ?? "";
    input.setAttribute("aria-invalid", String(isFault));
    hint.className = isFault ? "hint fault" : "hint";
    hint.textContent = words;
    chooses.setAttribute("aria-label", `Choose part ${i + 1}`);
    chooses.setAttribute("aria-pressed", String(isChosen));
  }
  return { element, show };
}
