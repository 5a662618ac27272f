import { choice, field } from "../elements/field.js";
import { button, h, swap, word } from "../elements/h.js";

/** Things of a common size, from memory; every number can be changed. */
const SIZES = {
  post: { words: "figure", height_m: 1.75 },
  door: { words: "door", width_m: 0.9, height_m: 2.1, depth_m: 0, turn_deg: 0 },
  table: { words: "table", width_m: 1.6, height_m: 0.75, depth_m: 0.8, turn_deg: 0 },
  box: { words: "box", width_m: 1, height_m: 1, depth_m: 1, turn_deg: 0 },
};
const FIELDS = [["height_m", "Height, m"], ["width_m", "Width, m"], ["depth_m", "Depth, m"], ["turn_deg", "Turned, °"]];

/**
 * Things to stand on the floor: a kind, its sizes, and where, by a tap on the panel or by two numbers.
 * @param {[number, number, number, number]} box of the panel, page coordinates
 * @param {() => string[]} draw draws all of them and says why one is not there
 * @param {boolean} focalIsAssumed no lens is known, and depth is drawn by a common one
 */
export function underlayThings([left, top, right, bottom], draw, focalIsAssumed) {
  const things = [];
  const list = h("ul", { class: "rows" });
  const kind = choice(Object.entries(SIZES).map(([name, { words }]) => [name, words]), "door", { onchange: () => fill() });
  const inputs = Object.fromEntries([...FIELDS, ["across", "From the left, %"], ["down", "From the top, %"]].map(([name]) =>
    [name, h("input", { type: "number", step: "any", inputmode: "decimal" })]));
  const fields = FIELDS.map(([name, words]) => ({ name, element: field(words, inputs[name]) }));
  const fill = () => fields.forEach(({ name, element }) => {
    inputs[name].value = SIZES[kind.value][name] ?? "";
    element.hidden = SIZES[kind.value][name] === undefined;
  });
  const place = ([x, y]) => {
    inputs.across.value = (((x - left) / (right - left)) * 100).toFixed(1);
    inputs.down.value = (((y - top) / (bottom - top)) * 100).toFixed(1);
  };
  const show = () => {
    const reasons = draw();
    swap(list, ...things.map((thing, i) => h("li", {},
      h("span", {}, `${SIZES[thing.name].words}, ${thing.height_m} m high`, reasons[i] && h("span", { class: "fault" }, ` ${reasons[i]}`)),
      word("Remove", () => { things.splice(i, 1); show(); }, { "aria-label": `Remove ${SIZES[thing.name].words} ${i + 1}` }))));
  };
  const stand = () => {
    const foot = [left + (Number(inputs.across.value) / 100) * (right - left), top + (Number(inputs.down.value) / 100) * (bottom - top)];
    const sizes = Object.fromEntries(FIELDS.filter(([name]) => SIZES[kind.value][name] !== undefined).map(([name]) => [name, Number(inputs[name].value)]));
    things.push({ name: kind.value, kind: kind.value === "post" ? "post" : "box", foot, ...sizes });
    show();
  };
  if (focalIsAssumed) inputs.depth_m.setAttribute("aria-describedby", "depth-is-assumed");
  fill();
  place([(left + right) / 2, top + 0.9 * (bottom - top)]);
  const element = h("fieldset", {}, h("legend", { class: "legend" }, "Things on the floor"),
    h("p", { class: "hint" }, "Tap the panel where the middle of its front edge stands, or say it in numbers."),
    focalIsAssumed && h("p", { class: "hint", id: "depth-is-assumed" }, "The lines of this panel do not show how wide it is seen: how deep things are drawn is as seen under 60° across."),
    h("div", { class: "pair" }, field("What", kind), ...fields.map((one) => one.element),
      field("From the left, %", inputs.across), field("From the top, %", inputs.down)),
    h("div", { class: "buttons" }, button("Stand it there", stand)), list);
  return { element, things, show, onFloor: (point) => { place(point); stand(); } };
}

/** As the server takes them. */
export const asGuides = (things) => ({
  posts: things.filter((thing) => thing.kind === "post").map(({ foot, height_m }) => ({ foot, height_m })),
  boxes: things.filter((thing) => thing.kind === "box").map(({ foot, width_m, height_m, depth_m, turn_deg }) => ({ foot, width_m, height_m, depth_m, turn_deg })),
});
