import { h } from "./h.js";

/** The page about a kind of finding, beside whatever is under work here. @param {string} kind @param {number} [board] whose tolerances it tells */
export const howMeasured = (kind, board) =>
  h("a", { class: "small", href: `/how-measured/${kind}${board ? `?board=${board}` : ""}`, target: "_blank", "data-key": `how-${kind}` }, "How is this measured?", h("span", { class: "out-of-sight" }, " (in a new tab)"));
