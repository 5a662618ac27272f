import { askFirst } from "../elements/dialog.js";

const FIRST_WORDS = 80;

/** Takes a panel that is not drawn out of its page; where it has words, these are named and it is asked first. @param {() => any} take */
export function takePanelOut({ order, happens, said }, take) {
  const words = [happens, said].filter(Boolean).join(" ");
  if (!words) return take();
  const first = words.length > FIRST_WORDS ? `${words.slice(0, FIRST_WORDS)} …` : words;
  return askFirst(`Take panel ${order} out?`, `Its words go with it: “${first}”`, "Take it out", take);
}
