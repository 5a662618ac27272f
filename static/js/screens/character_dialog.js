import { addCharacter, changeCharacter } from "../api/figures.js";
import { call } from "../api/http.js";
import { openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { attempt } from "../elements/slips.js";

const AGES = [["", "not given"], ["child", "child"], ["youth", "youth"], ["adult", "adult"], ["old", "old"]];

/** One of the cast, new or to be changed. @param {object|null} character */
export async function characterDialog({ known }, character, reload) {
  const presets = await attempt(() => call("GET", "/presets"));
  if (!presets) return;
  openDialog(character ? `Change ${character.name}` : "Add a character", (close) => {
    const source = h("p", { class: "hint" });
    const preset = choice([["", "none"], ...presets.map(({ id, label, heads }) => [id, heads ? `${label}, ${heads.toFixed(1)} heads` : label])],
      character?.preset ?? "", { name: "preset", onchange: () => tell() });
    const tell = () => { source.textContent = presets.find(({ id }) => id === preset.value)?.source ?? ""; };
    tell();
    return form({}, async ({ name, key, height_m: height, ...rest }) => {
      const fields = { name, ...rest, height_m: height === "" ? null : Number(height), ...(key && { key: key.toLowerCase() }) };
      const done = await attempt(() => (character ? changeCharacter(character, fields) : addCharacter(known.board.id, fields)), { done: `${name} is in the cast.` });
      if (!done) return;
      close();
      reload();
    },
      h("p", { class: "hint" }, "A made-up character. Type in no measures of real people, and of children least of all."),
      h("div", { class: "pair" },
        field("Name", h("input", { name: "name", required: true, maxlength: "60", value: character?.name ?? "" })),
        field("Key", h("input", { name: "key", maxlength: "1", pattern: "[A-Za-z0-9]", value: character?.key ?? "" }), "A letter that chooses it while figures are marked."),
        field("Height, m", heightInput(character?.height_m), "In metres, as 1.68. With shoes and hair left out. Who grows is taller from a later model sheet on."),
        field("Age", choice(AGES, character?.age_band ?? "", { name: "age_band" })),
        field("Published proportions to start from", preset, "To draw by. Figures are measured against the model sheet alone.")),
      source,
      h("div", { class: "buttons" }, h("button", { class: "button first" }, character ? "Keep it" : "Add it")));
  });
}

/** Centimetres are told from metres, since the browser's own words name a limit alone. */
export function heightInput(heightM) {
  const say = () => {
    const { validity, valueAsNumber: value } = input;
    input.setCustomValidity(validity.rangeOverflow ? `Heights are in metres: ${value < 1000 ? (value / 100).toFixed(2) : "1.68"}.` : "");
  };
  const input = h("input", { name: "height_m", type: "number", min: "0.05", max: "100", step: "any", inputmode: "decimal", value: heightM ?? "", oninput: say });
  return input;
}
