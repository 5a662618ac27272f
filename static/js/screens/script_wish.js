import { choice, field } from "../elements/field.js";
import { h, swap } from "../elements/h.js";
import { count } from "../elements/words.js";
import { fits, panelsOf, speakers, wishAsSearch, wordsIn } from "./script_facts.js";
import { closeEditor } from "./script_write.js";

const TYPED_MS = 200; // a word is looked for, and not each of its letters

/** What is looked for, and how much there is of it. */
export function showWish(state, place, sum) {
  state.on(["pages", "panels", "wish"], ({ pages, panels, wish }) => {
    if (!pages) return;
    const standing = pages.flatMap((page) => panelsOf(page, panels).filter((panel) => !panel.is_gone));
    const parts = [...pages, ...standing];
    const found = wish.find || wish.who ? `; found in ${count(parts.filter((part) => fits(part, wish)).length, "place")}` : "";
    sum.textContent = [count(pages.length, "page"), count(standing.length, "panel"), `${count(wordsIn(parts), "word")} said`].join(", ") + found;
    swap(place, ...(pages.length ? [place.firstChild ?? findField(state), whoField(state, speakers(parts))] : []));
  });
}

function findField(state) {
  const typing = { timer: 0 };
  const oninput = ({ target }) => {
    clearTimeout(typing.timer);
    typing.timer = setTimeout(() => wishFor(state, { find: target.value }), TYPED_MS);
  };
  return field("Find words", h("input", { type: "search", value: state.known.wish.find, "data-key": "find", oninput }));
}

function whoField(state, all) {
  const { who } = state.known.wish;
  const options = all.map((one) => [one.who, `${one.who} (${count(one.lines, "line")}, ${count(one.words, "word")})`]);
  const isHere = !who || options.some(([name]) => name === who);
  return field("Who speaks", choice([["", "everybody"], ...(isHere ? [] : [[who, who]]), ...options], who, { "data-key": "who", onchange: ({ target }) => wishFor(state, { who: target.value }) }));
}

async function wishFor(state, part) {
  if (!(await closeEditor())) return;
  const wish = { ...state.known.wish, ...part };
  history.replaceState(history.state, "", location.pathname + wishAsSearch(wish));
  state.set({ wish });
}
