import { Problem } from "../api/http.js";
import { h, word } from "./h.js";

const SECONDS_A_SLIP_STAYS = 6;
const told = { slip: /** @type {Element|null} */ (null), refused: /** @type {Element|null} */ (null), unfetched: /** @type {Element|null} */ (null) };

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
  const ways = h("span", { class: "slip-ways", "aria-live": "off" });
  slip.append(ways);
  document.getElementById("slips")?.append(slip);
  // The words alone are read out: its buttons come after them, into a part that is not live.
  setTimeout(() => {
    if (way) ways.append(word(way[0], () => { slip.remove(); way[1](); }));
    ways.append(word("Close", () => slip.remove()));
    giveWay();
  });
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

/** What was refused, or not answered, and how to go on. @param {Problem} problem @param {string} [unanswered] what is said where nothing answers */
export function sayProblem(problem, unanswered = problem.words) {
  if (!(problem instanceof Problem)) throw problem;
  const way = problem.isSignedOut ? /** @type {[string, () => void]} */ (["Sign in", () => open("/sign-in")]) : undefined;
  return say(problem.isUnanswered ? unanswered : problem.words, { isFault: true, way });
}

/** Does something with the server and says what stands against it. Gives back the answer, or undefined. */
export async function attempt(doing, { done, onRefusal } = {}) {
  try {
    const answer = await doing();
    // What stood against it before does so no more.
    told.refused?.remove();
    if (done) say(done);
    return answer ?? true;
  } catch (error) {
    told.refused?.remove();
    told.refused = sayProblem(error);
    onRefusal?.(error);
    return undefined;
  }
}

// A browser keeps in mind that a module could not be fetched, and does not ask again for as long as the page lies open.
globalThis.addEventListener?.("unhandledrejection", (event) => {
  if (!/dynamically imported module|module script failed/i.test(event.reason?.message ?? "")) return;
  event.preventDefault();
  if (told.unfetched?.isConnected) return;
  told.unfetched = say("The line broke while this was fetched. Load the page again when it is back; what you write in notes is kept.",
    { isFault: true, way: ["Load it again", () => location.reload()] });
});
