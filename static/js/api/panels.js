import { all, call } from "./http.js";

const pair = (panel, model) => `/panels/${panel.id}/same-as/${model}`;

/** @param {number} model the panel whose drawing is taken over */
export const declareSameAs = (panel, model) => call("PUT", pair(panel, model), { version: panel.version });
/** Takes back what was declared, refuses what was proposed. */
export const refuseSameAs = (panel, model) => call("DELETE", pair(panel, model), { version: panel.version });
export const panelsOfBoard = (board) => all(`/boards/${board}/panels`);
export const historyOf = (panel) => all(`/panels/${panel}/history`);
/** @param {{in_still: [number, number][], on_page: [number, number][], revision: number}} points */
export const placeStill = (panel, points) => call("PUT", `/panels/${panel.id}/still/placement`, { body: points, version: panel.version });
export const freeStill = (panel) => call("DELETE", `/panels/${panel.id}/still/placement`, { version: panel.version });
/** Asks a worker where the still lies under the panel's drawing; asked again, the answer so far. */
export const searchStill = (panel, revision) => call("POST", `/panels/${panel.id}/still/search`, { body: { revision } });
export const readStillSearch = (panel, revision) => call("GET", `/panels/${panel.id}/still/search?revision=${revision}`);
/** One of several tries, at a page or at a panel. @param {"pages"|"panels"} kind */
export const chooseAlternate = (kind, row, alternate) => call("PUT", `/${kind}/${row.id}/chosen-alternate`, { body: { alternate }, version: row.version });
