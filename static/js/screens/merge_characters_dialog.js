import { mergeCharacters } from "../api/figures.js";
import { openDialog } from "../elements/dialog.js";
import { choice, field, form } from "../elements/field.js";
import { h } from "../elements/h.js";
import { attempt } from "../elements/slips.js";

/** Two names for one character become one, after it was said what that does. */
export function mergeCharactersDialog(kept, cast, reload) {
  const others = cast.filter(({ id }) => id !== kept.id);
  openDialog(`Another name of ${kept.name}`, (close) => {
    const other = choice([["", "choose"], ...others.map(({ id, name }) => [id, name])], "", { name: "character", required: true, onchange: () => tell() });
    const name = () => others.find(({ id }) => id === Number(other.value))?.name;
    const told = h("p", { role: "status" });
    const tell = () => { told.textContent = name() ? `Figures, model sheets and posts of ${name()} are ${kept.name}’s from then on, and are measured again as ${kept.name}’s; a figure that was marked as both is one. ${kept.name} keeps its name, key and measures, and takes over those that it has not. ${name()} is gone from the cast. This cannot be taken back; the script stays as it is written.` : ""; };
    return form({}, async ({ character }) => {
      const gone = name();
      if (!await attempt(() => mergeCharacters(kept, Number(character)), { done: `${gone} is ${kept.name} now.` })) return;
      close();
      reload();
    },
      field("Who is the same character", other), told,
      h("div", { class: "buttons" }, h("button", { class: "button first" }, "Make them one")));
  });
}
