import { call } from "./http.js";

const GATHERED_MS = 2000;

/** How far one has seen is no matter of life and death: a look that is lost comes again with the next. */
export const lookAtBoard = (board, event) => call("PUT", `/boards/${board}/last-look`, { body: { event } }).catch(() => null);
const lookAtPage = (page, event) => call("PUT", `/pages/${page}/last-look`, { body: { event } }).catch(() => null);

/** While a page lies open, what happens on it is seen. @returns {(change: {number: number, page: number|null}) => void} */
export function lookingAt(page, event) {
  const look = { event, timer: null };
  lookAtPage(page, event);
  return (change) => {
    if (change.page !== page) return;
    look.event = change.number;
    look.timer ??= setTimeout(() => {
      look.timer = null;
      lookAtPage(page, look.event);
    }, GATHERED_MS);
  };
}
