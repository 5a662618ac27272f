import { openDialog } from "../elements/dialog.js";
import { button, h } from "../elements/h.js";
import { count } from "../elements/words.js";

/** Notes are held on other pages too: all are sent together, or those of this page alone. @param {(notes: any[]) => void} send */
export function sendingDialog(all, { known }, send) {
  const held = [...all].sort((a, b) => (a.page_number ?? 0) - (b.page_number ?? 0) || a.id - b.id);
  const here = held.filter((note) => note.page === known.pageId);
  const places = new Map();
  for (const { page, page_numbers: numbers } of held) places.set(page, { name: numbers ? `page ${numbers.join("-")}` : "the board", count: (places.get(page)?.count ?? 0) + 1 });
  openDialog("Send what you hold", (close) => {
    const then = (notes) => () => {
      close();
      send(notes);
    };
    return [
      h("p", {}, `You hold ${count(held.length, "note")}: ${[...places.values()].map((one) => `${one.count} on ${one.name}`).join(", ")}.`),
      h("div", { class: "buttons" },
        here.length > 0 && button(`Send ${here.length === 1 ? "the one" : `the ${here.length}`} here`, then(here), { class: "button first" }),
        button(held.length === 1 ? "Send it" : `Send all ${held.length}`, then(held), { class: here.length ? "button" : "button first" }),
        button(held.length === 1 ? "Leave it" : "Leave them", close)),
    ];
  });
}
