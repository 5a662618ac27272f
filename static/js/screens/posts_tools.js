import { field } from "../elements/field.js";
import { button, h, swap } from "../elements/h.js";
import { panelsShown } from "./desk_facts.js";
import { eyeHeightOn, panelAtHand, postsShown, says } from "./posts_model.js";

/** The ledge while posts are stood: who the next one is, how high the eye of the panel at hand is, what cannot stand and why. */
export function showPostTools(state, ledge, deeds) {
  state.on(["posting", "panels", "revision", "panel"], (known) => {
    const { posting, board } = known;
    if (!posting || !known.revision) return;
    const panels = panelsShown(known);
    const panel = panelAtHand(panels, posting) ?? panels.find((one) => one.id === known.panel) ?? panels[0];
    const missing = postsShown(panels, known.revision, posting.cast).filter(({ drawn }) => drawn.reason);
    swap(ledge,
      h("div", { class: "ledge" },
        posting.cast.filter((one) => one.height_m).map((one) => button(`${one.key.toUpperCase()} ${one.name}`, () => deeds.character(one.id), {
          class: "button plain taps", "aria-pressed": String(posting.character === one.id), "data-key": `post-${one.id}` })),
        !posting.cast.length && h("a", { href: `/boards/${board.id}/line-up` }, "Line-up"),
        h("span", { class: "ledge-space" }),
        posting.chosen && button("Remove this post", deeds.remove, { class: "button plain", "data-key": "remove-post" }),
        button("Done", deeds.done, { class: "button first", "data-key": "posts-done" })),
      panel && h("div", { class: "pair mark-fields" }, eyeField(panel, known.revision, deeds)),
      missing.length > 0 && h("ul", { class: "small rows" }, missing.map(({ panel: { order }, drawn }) => h("li", {}, `${drawn.name || "A post"} in panel ${order}: ${drawn.reason}`))),
      h("p", { class: "small quiet", role: "status" }, says(posting)));
  });
}

function eyeField(panel, revision, deeds) {
  const said = panel.row?.figure_posts?.eye_height_m ?? null;
  const known = eyeHeightOn(panel, revision);
  const input = h("input", { type: "number", min: "0.01", max: "1000", step: "any", inputmode: "decimal", value: said ?? "", "data-key": "post-eye",
    onchange: () => deeds.eye(panel, input.value === "" ? null : Number(input.value)) });
  const hint = said === null && known ? `${known.toFixed(2)} m, by the still or the figures marked here. Type another to say otherwise; marked figures are held against it.` : "Empty: by the still, or by the figures marked here; these are held against what you type.";
  return field(`Eye over the floor of panel ${panel.order}, m`, input, hint);
}
