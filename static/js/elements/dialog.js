import { h, word } from "./h.js";
import { keptFromLoss } from "./unsent.js";

let opened = 0;
/** @type {HTMLDialogElement[]} those that lie open, the topmost last */
const lying = [];

/**
 * A sheet laid on the table. Escape and "Close" put it away, and ask once where something was typed and not sent; `close` is for what is
 * done, and asks nothing. The focus returns to where it was.
 * @param {string} title
 * @param {(close: () => void, dialog: HTMLDialogElement) => any} content
 * @param {{isWide?: boolean, onClose?: () => void}} [options]
 */
export function openDialog(title, content, { isWide = false, onClose } = {}) {
  const from = /** @type {HTMLElement|null} */ (document.activeElement);
  const id = `dialog-${++opened}`;
  const dialog = h("dialog", { class: isWide ? "wide" : "", "aria-labelledby": id });
  const close = () => dialog.close();
  const faultsBefore = new Set(faults());
  const dropFaults = () => faults().filter((one) => !faultsBefore.has(one)).forEach((one) => one.remove());
  const asked = h("p", { class: "dialog-asked", role: "status" });
  const mayLeave = keptFromLoss(dialog, asked);
  const leave = ({ detail }) => {
    // The second click of a double click is no answer.
    if (detail > 1 || !mayLeave()) return;
    dropFaults();
    close();
  };
  dialog.append(
    h("div", { class: "dialog-head" }, h("h2", { id }, title), word("Close", leave), asked),
    h("div", { class: "dialog-body" }, content(close, dialog)),
  );
  dialog.addEventListener("close", () => {
    lying.splice(lying.indexOf(dialog), 1);
    laySlips(true);
    dialog.remove();
    onClose?.();
    // What happened meanwhile may have drawn it anew.
    const heir = from?.dataset?.key ? document.querySelector(`[data-key="${CSS.escape(from.dataset.key)}"]`) : null;
    (from?.isConnected ? from : heir)?.focus();
  });
  // A file that was not chosen is a "cancel" too, and comes up to here.
  dialog.addEventListener("cancel", (event) => {
    if (event.target !== dialog) return;
    if (mayLeave()) dropFaults();
    else event.preventDefault();
  });
  // What is tried again has its answer yet to come.
  dialog.addEventListener("click", ({ target }) => target.closest(".dialog-body button") && dropFaults(), { capture: true });
  dialog.addEventListener("keydown", (event) => {
    event.stopPropagation();
    // Held down, it would answer what it asked.
    if (event.key === "Escape" && event.repeat) event.preventDefault();
  });
  document.body.append(dialog);
  dialog.showModal();
  lying.push(dialog);
  laySlips();
  return dialog;
}

const faults = () => [...document.querySelectorAll("#slips > .fault")];

/** Into the topmost dialog: what is not in it lies behind its veil, where it can neither be read nor closed. */
function laySlips(isClosing = false) {
  const slips = document.getElementById("slips");
  if (!slips) return;
  const told = [...slips.children];
  (lying.at(-1) ?? document.body).append(slips);
  // What a dialog said as it closed went with it before it was read out: put into the region once more, it is.
  if (isClosing) requestAnimationFrame(() => slips.append(...told.filter((one) => one.isConnected)));
}

/** Asks before something that cannot be taken back lightly. */
export function askFirst(title, text, yes, onYes) {
  openDialog(title, (close) => [
    h("p", {}, text),
    h("div", { class: "buttons" },
      h("button", { type: "button", class: "button first", onclick: () => { close(); onYes(); } }, yes),
      h("button", { type: "button", class: "button", onclick: close }, "Leave it")),
  ]);
}
