/** What is taken care of while a dialog is open: that what is said lies in it, and that what was typed is not lost without a word. */
import { askBeforeLeaving } from "./ask_before_leaving.js";

const slips = document.getElementById("slips");
/** @type {HTMLDialogElement[]} those that lie open, the topmost last */
const lying = [];

/** @param {HTMLDialogElement} dialog @param {Element} asked a live region in it */
export function takeCare(dialog, asked) {
  if (!dialog.open) return;
  const { mayLeave, isLost } = keptFromLoss(dialog, asked);
  const isPast = askBeforeLeaving(isLost);
  const before = new Set(faults());
  const dropFaults = () => faults().filter((one) => !before.has(one)).forEach((one) => one.remove());
  dialog.addEventListener("click", (event) => {
    // What is tried again has its answer yet to come.
    if (event.target.closest(".dialog-body button")) dropFaults();
    if (!event.target.closest(".dialog-head button")) return;
    // The second click of a double click is no answer.
    if (event.detail < 2 && mayLeave()) dropFaults();
    else event.stopPropagation();
  }, { capture: true });
  dialog.addEventListener("cancel", (event) => {
    // A file that was not chosen is a "cancel" too, and comes up to here.
    if (event.target !== dialog) return;
    if (mayLeave()) dropFaults();
    else event.preventDefault();
  });
  // Held down, Escape would answer what it asked.
  dialog.addEventListener("keydown", (event) => event.key === "Escape" && event.repeat && event.preventDefault());
  dialog.addEventListener("close", () => {
    isPast();
    lying.splice(lying.indexOf(dialog), 1);
    const told = laySlips();
    // What a dialog said as it closed went with it before it was read out: put into the region once more, it is.
    requestAnimationFrame(() => slips?.append(...told.filter((one) => one.isConnected)));
  });
  lying.push(dialog);
  laySlips();
}

const faults = () => [...(slips?.querySelectorAll(":scope > .fault") ?? [])];

/** Into the topmost dialog: what is not in it lies behind its veil, where it can neither be read nor closed. */
function laySlips() {
  if (slips) (lying.at(-1) ?? document.body).append(slips);
  return [...(slips?.children ?? [])];
}

/**
 * What was typed or chosen and not sent is let go the second time it is asked. What changes only what is looked at has `data-look-only`,
 * on itself or around it.
 * @returns {{mayLeave: () => boolean, isLost: () => boolean}} whether the dialog may be left now, and whether something is lost with it
 */
function keptFromLoss(dialog, asked) {
  const [typed, sent] = [new Set(), new Set()];
  /** What was sent and refused is not kept either. */
  const takeBack = () => {
    if (!dialog.querySelector(".fault")) return;
    for (const one of sent) typed.add(one);
    sent.clear();
  };
  dialog.addEventListener("input", ({ target }) => {
    // A form says so itself of what is drawn in it.
    const place = target.form ?? (target.matches("textarea, form") ? target : null);
    if (!place || target.closest("[data-look-only], [type=search]")) return;
    typed.add(place);
    asked.textContent = "";
  });
  // Before a refusal is closed, and before what was refused is sent once more.
  dialog.addEventListener("click", takeBack, { capture: true });
  dialog.addEventListener("submit", ({ target }) => {
    if (typed.delete(target)) sent.add(target);
    asked.textContent = "";
  });
  const isLost = () => {
    takeBack();
    return [...typed].some((one) => one.isConnected);
  };
  const mayLeave = () => {
    if (!isLost() || asked.textContent) return true;
    asked.textContent = "What you typed here is not kept. Close once more to leave it.";
    return false;
  };
  return { mayLeave, isLost };
}
