import { Problem } from "../api/http.js";
import { sayProblem } from "./slips.js";

const AGAIN_MS = 4000;
const broken = { slip: /** @type {Element|null} */ (null), again: new Map(), timer: null };

/**
 * What others did could not be read. That is told once; while nothing answers, it is tried again until it comes.
 * @param {any} problem what else went wrong is raised again @param {string} name of what was read @param {() => any} again
 */
export function readingFailed(problem, name, again) {
  if (!(problem instanceof Problem)) throw problem;
  if (!broken.slip?.isConnected) broken.slip = sayProblem(problem, "The line is broken. What is new is seen here when it is back.");
  if (!problem.isUnanswered) return;
  broken.again.set(name, again);
  broken.timer ??= setTimeout(() => {
    const waiting = [...broken.again.values()];
    broken.again.clear();
    broken.timer = null;
    for (const read of waiting) read();
  }, AGAIN_MS);
}

export function readingCame() {
  broken.slip?.remove();
  broken.slip = null;
}
