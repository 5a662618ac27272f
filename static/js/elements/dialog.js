import { h, word } from "./h.js";

let opened = 0;
/** Where a field that has the focus brings no keyboard over what it stands in. */
const FINE = globalThis.matchMedia?.("(pointer: fine)");
const CONTROLS = "a[href], button, summary, input, select, textarea, [tabindex]";

/**
 * A sheet laid on the table. Escape and "Close" put it away, and ask once where something was typed and not sent; `close` is for what is
 * done, and asks nothing. The focus goes to what is filled in first, and returns to where it was.
 * @param {string} title
 * @param {(close: () => void, dialog: HTMLDialogElement) => any} content
 * @param {{isWide?: boolean, onClose?: () => void}} [options]
 */
export function openDialog(title, content, { isWide = false, onClose } = {}) {
  const from = /** @type {HTMLElement|null} */ (document.activeElement);
  const id = `dialog-${++opened}`;
  const dialog = h("dialog", { class: isWide ? "wide" : "", "aria-labelledby": id });
  const close = () => dialog.close();
  const asked = h("p", { class: "dialog-asked", role: "status" });
  dialog.append(
    h("div", { class: "dialog-head" }, h("h2", { id }, title), word("Close", close), asked),
    h("div", { class: "dialog-body" }, content(close, dialog)),
  );
  dialog.addEventListener("close", () => {
    dialog.remove();
    onClose?.();
    // What happened meanwhile may have drawn it anew.
    const heir = from?.dataset?.key ? document.querySelector(`[data-key="${CSS.escape(from.dataset.key)}"]`) : null;
    (from?.isConnected ? from : heir)?.focus();
  });
  dialog.addEventListener("keydown", (event) => event.stopPropagation());
  document.body.append(dialog);
  dialog.showModal();
  const [end, first] = [".dialog-head", ".dialog-body"].map((part) => dialog.querySelector(`${part} :is(${CONTROLS})`));
  const isFilledIn = first?.matches("input:not([type=radio]), select, textarea") && first.getBoundingClientRect().bottom < innerHeight;
  if (FINE?.matches && isFilledIn && document.activeElement === end) first.focus();
  import("./dialog_care.js").then(({ takeCare }) => takeCare(dialog, asked));
  return dialog;
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
