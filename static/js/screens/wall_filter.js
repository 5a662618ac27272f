import { choice, field } from "../elements/field.js";
import { button, h, swap } from "../elements/h.js";
import { moreButton } from "../elements/more.js";
import { EVERYTHING, filterAsSearch, fits, isFiltered, isNew } from "./wall_facts.js";

const STAGES = [["", "any"], ["thumbnail", "thumbnail"], ["pencil", "pencil"], ["final", "final"]];
const WAITS = [["", "anybody"], ["me", "me"], ["artist", "the artist"], ["reviewer", "a reviewer"], ["nobody", "nobody: finished"]];
const NOTES = [["", "any"], ["open", "some open"], ["must", "a must open"], ["answered", "some answered"], ["measured", "some measured"],
  ["sent-back", "a panel sent back"], ["none", "none open"]];

/** The row that says which pages are shown. @param {HTMLElement} place @param {{seen: () => void}} deeds */
export function showFilter(state, place, { seen }) {
  const set = (changes) => {
    const filter = { ...state.known.filter, ...changes };
    state.set({ filter });
    history.replaceState(history.state, "", location.pathname + filterAsSearch(filter));
  };
  const pick = (name, label, options) => field(label, choice(options, state.known.filter[name],
    { "data-key": `filter-${name}`, onchange: (event) => set({ [name]: event.target.value }) }));
  state.on(["pages", "filter"], (known) => {
    const { pages, filter } = known;
    if (!pages?.length) return place.replaceChildren();
    const news = pages.filter(isNew).length;
    const shown = pages.filter((page) => fits(page, filter, known)).length;
    return swap(place,
      moreButton(place, isFiltered(filter) ? "Filter (on)" : "Filter", { "data-key": "filter-opener" }),
      pick("stage", "Stage", STAGES), pick("waits", "Waits for", WAITS), pick("notes", "Notes", NOTES),
      button(news ? `New since you looked: ${news}` : "Nothing new", () => set({ isNew: !filter.isNew }),
        { "data-key": "filter-new", "aria-pressed": String(filter.isNew), disabled: !news && !filter.isNew }),
      news > 0 && button("I have seen it all", seen, { "data-key": "seen" }),
      isFiltered(filter) && button("Show all pages", () => set({ ...EVERYTHING }), { "data-key": "filter-off" }),
      h("p", { class: "quiet", role: "status" }, isFiltered(filter) ? `${shown} of ${pages.length} pages` : ""));
  });
}
