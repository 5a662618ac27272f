import { all, call } from "./http.js";

/** @param {number|null} before id of the page that it comes before; null puts it at the end */
export const placePage = (page, before) => call("PUT", `/pages/${page.id}/place`, { body: { before }, version: page.version });
export const renumberFrom = (board, first, to) => call("POST", `/boards/${board}/renumberings`, { body: { first, to } });
export const closeGaps = (board) => call("POST", `/boards/${board}/renumberings`, { body: { close_gaps: true } });
export const layAside = (page) => call("PUT", `/pages/${page.id}/laid-aside`, { version: page.version });
export const takeIn = (page) => call("DELETE", `/pages/${page.id}/laid-aside`, { version: page.version });
export const laidAsideOf = (board) => all(`/boards/${board}/laid-aside-pages`);
