import { choice, field } from "../elements/field.js";
import { button, h, swap, word } from "../elements/h.js";
import { askedOf, asks, lostOf, proposalTools } from "./figure_proposals.js";
import { chosenOf, FURTHER, nameOf, says } from "./figures_mark_model.js";

const POSES = [["standing", "standing, walking"], ["seated", "seated, riding, in a wheelchair: height left out"], ["crouching", "crouching, kneeling, lying, bent: height left out"], ["far", "far off"]];

/** The ledge while figures are marked: who it is, what else is known of it, and what to do next. */
export function showMarkTools(state, ledge, deeds) {
  state.on(["marking"], ({ marking, board }) => {
    if (!marking) return;
    const figure = chosenOf(marking);
    const lost = lostOf(marking);
    swap(ledge,
      h("div", { class: "ledge" },
        marking.cast.map((one) => button(`${one.key.toUpperCase()} ${one.name}`, () => deeds.character(one.id), {
          class: "button plain taps", "aria-pressed": String((figure?.character ?? marking.character) === one.id), "data-key": `who-${one.id}` })),
        !marking.cast.length && h("a", { href: `/boards/${board.id}/line-up` }, "Line-up"),
        h("span", { class: "ledge-space" }),
        proposalTools(marking, deeds),
        marking.closeUp && button("Set it here", () => deeds.point(marking.cursor), { class: "button first", "data-key": "set-here" }),
        figure && button("Head, close up (.)", deeds.closeUp, { class: "button plain taps", "aria-pressed": String(Boolean(marking.closeUp)), "data-key": "close-up" }),
        figure && button("Remove these marks", deeds.remove, { class: "button plain", "data-key": "remove-figure" }),
        button("Done", deeds.done, { class: "button first", "data-key": "marks-done" })),
      figure && !marking.closeUp && figureFields(figure, marking, deeds),
      h("p", { class: "small quiet", role: "status" }, askedOf(marking) ? asks(marking, askedOf(marking)) : says(marking)),
      lost.length > 0 && h("ul", { class: "small rows" }, lost.map((one) => h("li", {}, `${nameOf(marking, one.character)}: ${one.reason} `,
        word("Remove", () => deeds.removeLost(one), { "aria-label": `Remove ${nameOf(marking, one.character)}, marked earlier`, "data-key": `lost-${one.id}` })))));
  });
}

function figureFields(figure, marking, deeds) {
  const ground = h("input", { type: "number", step: "any", inputmode: "decimal", value: figure.ground_offset_m ?? "", "data-key": "ground",
    onchange: () => deeds.set({ ground_offset_m: ground.value === "" ? null : Number(ground.value) }) });
  const pose = choice(POSES, figure.pose, { "data-key": "pose", onchange: () => deeds.set({ pose: pose.value }) });
  const further = choice([["", "none"], ...FURTHER], marking.further, { "data-key": "further", onchange: () => deeds.further(further.value) });
  return h("div", { class: "pair mark-fields" }, field("Posture", pose), field("Stands over the ground by, m", ground), field("One more mark", further));
}
