import { listenToKeys } from "../gestures/keys.js";
import { whisper } from "../elements/slips.js";
import { spoken } from "../gestures/nudge_region.js";
import { stepOf } from "./figures_close_up.js";
import { byKey, moved, says } from "./figures_mark_model.js";

const STEP = 0.01;

/** Every mark has its key: arrows move the cross, Enter sets the mark, a letter says who it is. @returns {() => void} */
export function listenWhileMarking(state, home, deeds) {
  const { known } = state;
  const arrows = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  const move = (event) => {
    const times = event.shiftKey ? 5 : 1;
    const step = known.marking.closeUp ? stepOf(known).map((v) => v * (event.altKey ? 0.25 : times)) : [0, 0].fill(STEP * (event.altKey ? 0.1 : times));
    const marking = moved(known.marking, arrows[event.key].map((v, i) => v * step[i]));
    state.set({ marking });
    whisper(spoken({ point: marking.cursor }));
  };
  const who = (event) => {
    const character = byKey(known.marking, event.key);
    if (character) deeds.character(character.id);
    else whisper(`No character has the key ${event.key}.`);
  };
  whisper(`Marking figures. ${says(known.marking)}`);
  const isOnControl = (event) => event.target instanceof HTMLElement && event.target.matches("button, select, a");
  return listenToKeys([
    { keys: Object.keys(arrows), run: move, unless: isOnControl },
    { keys: ["Enter"], run: () => (known.marking.asked ? deeds.answer("confirmed") : deeds.point(known.marking.cursor)), unless: isOnControl },
    { keys: [","], run: deeds.undo },
    { keys: ["."], run: deeds.closeUp },
    { keys: ["Delete", "Backspace"], run: () => (known.marking.asked ? deeds.answer("refused") : deeds.remove()) },
    { keys: ["Escape"], run: deeds.back },
    { keys: [..."abcdefghijklmnopqrstuvwxyz0123456789"], run: who },
  ], home, { isFirst: true });
}
