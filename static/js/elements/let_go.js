const PRESSED = "button:active, a:active, summary:active, label:active";
const LONGEST_MS = 3000;

/** Waits while something that can be clicked is held down: drawn anew under the pointer, it would never be clicked. */
export async function letGo() {
  if (!globalThis.document?.querySelector?.(PRESSED)) return;
  const heard = new AbortController();
  await new Promise((resolve) => {
    for (const event of ["pointerup", "pointercancel", "keyup"]) addEventListener(event, resolve, { capture: true, signal: heard.signal });
    setTimeout(resolve, LONGEST_MS);
  });
  heard.abort();
  // The click itself comes right after.
  await new Promise((resolve) => setTimeout(resolve));
}
