const PRESSED = "button:active, a:active, summary:active, label:active";
const LONGEST_MS = 3000;

/** Waits while something that can be clicked is held down: drawn anew under the pointer, it would never be clicked. */
export async function letGo() {
  if (!globalThis.document?.querySelector?.(PRESSED)) return;
  await new Promise((resolve) => {
    for (const event of ["pointerup", "pointercancel", "keyup"]) addEventListener(event, resolve, { once: true, capture: true });
    setTimeout(resolve, LONGEST_MS);
  });
  // The click itself comes right after.
  await new Promise((resolve) => setTimeout(resolve));
}
