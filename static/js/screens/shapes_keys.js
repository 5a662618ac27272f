import { whisper } from "../elements/slips.js";
import { boxBetween } from "../geometry/page_space.js";
import { listenToKeys } from "../gestures/keys.js";
import { spoken } from "../gestures/nudge_region.js";
import { enclosing } from "./shapes_hand.js";
import { TOOLS } from "./shapes_tools.js";

const STEP = 0.01;
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const SAME = 0.004;
const within = (v) => Math.min(1, Math.max(0, v));

/** Arrow keys move the cross, Enter sets what the tool in hand asks for, a letter takes another tool. @returns {() => void} */
export function listenWhileShaping(state, home, deeds) {
  const shaping = () => state.known.shaping;
  const move = (event) => {
    const step = STEP * (event.altKey ? 0.1 : event.shiftKey ? 5 : 1);
    const cross = shaping().cross.map((v, i) => within(v + ARROWS[event.key][i] * step));
    const draws = shaping().tool === "stroke" && shaping().begun.length > 0;
    deeds.set({ cross, ...(draws ? { begun: [...shaping().begun, cross] } : {}) });
    whisper(spoken({ point: cross }));
  };
  const back = () => {
    if (shaping().begun.length) deeds.set({ begun: [] });
    else deeds.done();
  };
  const removeLast = () => (shaping().begun.length ? deeds.set({ begun: shaping().begun.slice(0, -1) }) : deeds.takeOff());
  whisper(`Drawing: ${TOOLS[shaping().tool][1].toLowerCase()}. Arrow keys move the cross, Enter sets it down.`);
  const isOnControl = (event) => event.target instanceof HTMLElement && event.target.matches("button, select, a");
  return listenToKeys([
    { keys: Object.keys(ARROWS), run: move, unless: isOnControl },
    { keys: ["Enter"], run: () => set(shaping(), deeds), unless: isOnControl },
    { keys: ["Backspace", "Delete"], run: removeLast },
    { keys: ["Escape"], run: back },
    ...Object.entries(TOOLS).map(([tool, [key, name]]) => ({ keys: [key], run: () => {
      deeds.choose(tool);
      whisper(name);
    } })),
  ], home, { isFirst: true });
}

function set({ tool, cross, begun }, deeds) {
  if (tool === "spot") return deeds.region({ point: cross });
  if (!begun.length) {
    whisper(tool === "stroke" ? "The pen is down." : "Begun here.");
    return deeds.set({ begun: [cross] });
  }
  const isSame = isNear(cross, begun.at(-1));
  if (tool === "outline" && !isSame) return deeds.set({ begun: [...begun, cross] });
  deeds.set({ begun: [] });
  if (tool === "outline") return enclosing(begun, deeds);
  if (tool === "stroke") return begun.length > 1 ? deeds.line({ kind: "stroke", points: begun.slice(0, 500) }) : undefined;
  if (isSame) return undefined;
  return tool === "arrow" ? deeds.line({ kind: "arrow", points: [begun[0], cross] }) : enclosing(boxBetween(begun[0], cross), deeds);
}

const isNear = ([ax, ay], [bx, by]) => Math.hypot(ax - bx, ay - by) < SAME;
