/**
 * Keeps what was typed or chosen in a dialog from being thrown away without a word: it is said once, and the next time let go. What
 * changes only what is looked at has `data-look-only`, on itself or around it.
 * @param {HTMLDialogElement} dialog @param {Element} asked a live region in it @returns {() => boolean} whether it may be left now
 */
export function keptFromLoss(dialog, asked) {
  const [typed, sent] = [new Set(), new Set()];
  /** What was sent and refused is not kept either. */
  const takeBack = () => {
    if (!dialog.querySelector(".fault")) return;
    for (const one of sent) typed.add(one);
    sent.clear();
  };
  dialog.addEventListener("input", ({ target }) => {
    const place = target.form ?? (target.matches("textarea") ? target : null);
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
  return () => {
    takeBack();
    if (asked.textContent || ![...typed].some((one) => one.isConnected)) return true;
    asked.textContent = "What you typed here is not kept. Close once more to leave it.";
    return false;
  };
}
