import { say, sayProblem } from "./slips.js";

const told = { slip: /** @type {Element|null} */ (null) };

/** What others do is not seen here any more: told once, before somebody writes what cannot be sent. @param {import("../api/http.js").Problem} problem */
export function tellNotFollowed(problem) {
  if (told.slip?.isConnected) return;
  told.slip = problem.isSignedOut ? sayProblem(problem) : say(
    "You have no seat on this board any more. What others do is not seen here, and nothing can be sent; copy what you still need.",
    { isFault: true, way: ["Your boards", () => location.assign("/boards")] });
}
