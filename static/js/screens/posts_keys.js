import { whisper } from "../elements/slips.js";
import { listenToKeys } from "../gestures/keys.js";
import { spoken } from "../gestures/nudge_region.js";

const STEP = 0.01;
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const within = (v) => Math.min(1, Math.max(0, v));

/** Arrows move the post in hand, else the cross; Enter stands one there, a letter says who it is. @returns {() => void} */
export function listenWhilePosting(state, home, deeds) {
  const move = (event) => {
    const step = STEP * (event.altKey ? 0.1 : event.shiftKey ? 5 : 1);
    const by = ARROWS[event.key].map((v) => v * step);
    if (state.known.posting.chosen) return deeds.nudge(by);
    const cursor = state.known.posting.cursor.map((v, i) => within(v + by[i]));
    state.set({ posting: { ...state.known.posting, cursor } });
    whisper(spoken({ point: cursor }));
  };
  const who = (event) => {
    const one = state.known.posting.cast.find(({ key }) => key === event.key.toLowerCase());
    if (one?.height_m) deeds.character(one.id);
    else whisper(one ? `${one.name} has no height in the cast.` : `No character has the key ${event.key}.`);
  };
  whisper("Standing figure posts. A character's key says who it is, arrow keys move the cross, Enter stands the post there.");
  const isOnControl = (event) => event.target instanceof HTMLElement && event.target.matches("button, select, a");
  return listenToKeys([
    { keys: Object.keys(ARROWS), run: move, unless: isOnControl },
    { keys: ["Enter"], run: () => deeds.stand(state.known.posting.cursor), unless: isOnControl },
    { keys: ["Delete", "Backspace"], run: deeds.remove },
    { keys: ["Escape"], run: deeds.back },
    { keys: [..."abcdefghijklmnopqrstuvwxyz0123456789"], run: who },
  ], home, { isFirst: true });
}
