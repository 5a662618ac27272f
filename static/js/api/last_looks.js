import { call } from "./http.js";

/** How far one has seen is no matter of life and death: a look that is lost comes again with the next. */
export const lookAtBoard = (board, event) => call("PUT", `/boards/${board}/last-look`, { body: { event } }).catch(() => null);
export const lookAtPage = (page, event) => call("PUT", `/pages/${page}/last-look`, { body: { event } }).catch(() => null);
