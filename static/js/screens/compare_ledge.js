import { button, h, swap, word } from "../elements/h.js";
import { listen } from "../gestures/pan_zoom.js";
import { MODES, nameOfRevision } from "./compare_facts.js";
import { wholePage, zoomBy } from "./compare_view.js";

/** The ledge under the sheets: how they lie, what goes with that way, and how large they are seen. */
export function showLedge(state, ledge) {
  const modes = h("div", { class: "modes", role: "group", "aria-label": "How the two are seen" });
  const own = h("div", { class: "mode-own" });
  const looking = h("div", { class: "buttons" },
    button("−", () => zoomBy(state, 1 / 1.4), { class: "button bare", "aria-label": "Smaller" }),
    button("+", () => zoomBy(state, 1.4), { class: "button bare", "aria-label": "Larger" }),
    button("Whole page", () => wholePage(state), { class: "button bare" }));
  ledge.append(modes, own, looking);
  state.on(["mode", "older"], ({ mode, older }) => {
    ledge.hidden = !older;
    swap(modes, ...MODES.map(([name, words, title]) =>
      button(words, () => state.set({ mode: name }), { class: "button bare", "aria-pressed": String(mode === name), title, "data-key": `mode-${name}` })));
  });
  state.on(["mode", "older", "newer", "difference"], (known) => known.older && swap(own, ...ownOf(state)));
  state.on(["fade", "edge", "isFlipped"], (known) => keepUp(known, own));
}

function ownOf(state) {
  const { known } = state;
  const [older, newer] = [known.older, known.newer].map(nameOfRevision);
  if (known.mode === "fade") return slider(state, "fade", "How much of the newer one is seen", older, newer);
  if (known.mode === "split") return slider(state, "edge", "Where the edge stands", older, newer);
  if (known.mode === "flip") return flipping(state);
  if (known.mode === "side") return [h("span", {}, older), h("span", { class: "quiet" }, "and"), h("span", {}, newer)];
  return difference(known);
}

function slider(state, name, label, older, newer) {
  const input = h("input", {
    type: "range", min: "0", max: "100", value: String(Math.round(state.known[name])), "aria-label": label, "data-key": `slider-${name}`, class: "slider",
    oninput: () => state.set({ [name]: Number(input.value) }),
  });
  return [h("span", { class: "slider-end" }, older), input, h("span", { class: "slider-end" }, newer)];
}

function flipping(state) {
  const turn = (isFlipped) => () => state.set({ isFlipped });
  const hold = button("Hold to see the older one", () => {}, { "data-key": "flip" });
  const back = turn(false);
  const byKey = (isFlipped) => (event) => {
    if (event.key === " " || event.key === "Enter") state.set({ isFlipped });
  };
  listen(hold, { pointerdown: turn(true), pointerup: back, pointerleave: back, pointercancel: back, keydown: byKey(true), keyup: byKey(false), blur: back });
  return [hold, word("Turn over", () => state.set({ isFlipped: !state.known.isFlipped }), { "data-key": "turn" }),
    h("span", { class: "flip-shows", role: "status" }, showsWords(state.known))];
}

const showsWords = ({ isFlipped, older, newer }) => `Seen: ${nameOfRevision(isFlipped ? older : newer)}`;

/** The slider and the word for what is seen follow without being built anew: a hand may be on them. */
function keepUp(known, own) {
  const input = own.querySelector(".slider");
  if (input && document.activeElement !== input) input.value = String(Math.round(known.mode === "fade" ? known.fade : known.edge));
  const shows = own.querySelector(".flip-shows");
  if (shows && known.older) shows.textContent = showsWords(known);
}

function difference({ difference: found, drawn }) {
  const percent = (share) => `${Math.round(share * 100)} %`;
  const isReady = found && found.drawn === drawn;
  return [
    h("span", { class: "ink is-gone" }, isReady ? `gone ${percent(found.gone)}` : "gone"),
    h("span", { class: "ink is-new" }, isReady ? `new ${percent(found.isNew)}` : "new"),
    h("span", { class: "ink is-stayed" }, "stayed"),
    h("span", { class: "small quiet", role: "status" }, isReady ? "of all lines; broad tones are left out" : "Working it out …"),
  ];
}
