import { Problem } from "../api/http.js";
import { h, word } from "./h.js";

const SECONDS_A_SLIP_STAYS = 6;
const told = { slip: /** @type {Element|null} */ (null) };

/**
 * A short message at the foot of the table, read out by screen readers.
 * @param {{isFault?: boolean, way?: [string, () => void]}} [options] `way`: a button's words and what it does, while the slip lies there
 */
export function say(message, { isFault = false, way } = {}) {
  const slip = h("div", { class: isFault ? "slip fault" : "slip" }, h("span", {}, message));
  if (!way && !isFault) {
    // What was merely told before is past: on a telephone a pile of slips hides what they speak of.
    told.slip?.remove();
    told.slip = slip;
  }
  if (way) slip.append(word(way[0], () => { slip.remove(); way[1](); }));
  slip.append(word("Close", () => slip.remove()));
  document.getElementById("slips")?.append(slip);
  giveWay();
  if (!isFault) setTimeout(() => slip.remove(), (way ? 2 : 1) * SECONDS_A_SLIP_STAYS * 1000);
  return slip;
}

/** Slips lie above the ledge, and never on what has the focus: then they go up to the head of the table (WCAG 2.2, 2.4.11). */
function giveWay() {
  const slips = document.getElementById("slips");
  // Pressed, a slip's own button has the focus: were it moved away from under the pointer, it would not be clicked.
  if (!slips?.childElementCount || slips.contains(document.activeElement)) return;
  slips.classList.remove("is-up");
  slips.style.bottom = "";
  const tops = [...document.querySelectorAll(".at-hand, .compare-ledge")].map((one) => one.getBoundingClientRect());
  const atFoot = tops.filter(({ height, bottom }) => height && bottom > innerHeight - 80 && bottom < innerHeight + 80).map(({ top }) => top);
  if (atFoot.length) slips.style.bottom = `${innerHeight - Math.min(...atFoot) + 8}px`;
  const [at, lies] = [document.activeElement ?? document.body, slips].map((one) => one.getBoundingClientRect());
  const isInTheWay = document.activeElement !== document.body && at.bottom > lies.top && at.top < lies.bottom && at.height < innerHeight / 2;
  slips.classList.toggle("is-up", isInTheWay);
  if (isInTheWay) slips.style.bottom = "";
}

for (const event of ["focusin", "scrollend"]) globalThis.addEventListener?.(event, () => requestAnimationFrame(giveWay));

/** For what the eye sees anyhow: read out only. */
export function whisper(message) {
  const slip = h("span", { class: "out-of-sight" }, message);
  document.getElementById("slips")?.append(slip);
  setTimeout(() => slip.remove(), 4000);
}

/** Does something with the server and says what stands against it. Gives back the answer, or undefined. */
export async function attempt(doing, { done, onRefusal } = {}) {
  try {
    const answer = await doing();
    if (done) say(done);
    return answer ?? true;
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    say(error.words, { isFault: true, way: error.isSignedOut ? ["Sign in", () => open("/sign-in")] : undefined });
    onRefusal?.(error);
    return undefined;
  }
}
