import { button, h, swap } from "../elements/h.js";

/** Each tool: its key, its name, how a hand draws it and how keys do. */
export const TOOLS = {
  box: ["r", "Region", "Drag from corner to corner.", "Enter sets one corner, then the other."],
  outline: ["l", "Free outline", "Draw around it; the ends are joined.", "Enter sets a corner; Enter once more at the same place closes it."],
  spot: ["i", "Spot", "Click or tap.", "Enter sets it."],
  arrow: ["w", "Arrow", "Drag from where it begins to what it points at.", "Enter sets where it begins, then what it points at."],
  stroke: ["d", "Stroke", "Draw over the page: it is kept as it is drawn.", "Enter puts the pen down, arrow keys draw, Enter lifts it."],
};

/** The ledge while shapes are drawn. */
export function showShapeTools(state, ledge, deeds) {
  state.on(["shaping", "draft"], ({ shaping, draft }) => {
    if (!shaping) return;
    const [, , byHand, byKeys] = TOOLS[shaping.tool];
    swap(ledge,
      h("div", { class: "ledge" },
        h("div", { class: "ledge-group", role: "group", "aria-label": "What is drawn" }, Object.entries(TOOLS).map(([tool, [key, name]]) => button(name, () => deeds.choose(tool), {
          class: "button plain taps", "aria-pressed": String(shaping.tool === tool), "aria-keyshortcuts": key, "data-key": `tool-${tool}` }))),
        h("span", { class: "ledge-space" }),
        draft?.lines?.length > 0 && button("Take the last line off", deeds.takeOff, { class: "button plain", "data-key": "take-off" }),
        button("Done", deeds.done, { class: "button first", "data-key": "shapes-done" })),
      h("p", { class: "small quiet", role: "status" }, `${byHand} By keyboard on the picture: arrow keys move the cross. ${byKeys}`));
  });
}
