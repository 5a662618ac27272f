import { all, call } from "./http.js";

export const readPage = (page) => call("GET", `/pages/${page}`);
export const pagesOfBoard = (board) => all(`/boards/${board}/pages`);
export const addPage = (board, fields, key) => call("POST", `/boards/${board}/pages`, { body: fields, key });
export const changePage = (page, fields) => call("PATCH", `/pages/${page.id}`, { body: fields, version: page.version });

export const panelsOfPage = (page) => all(`/pages/${page}/panels`);
export const addPanel = (page, fields) => call("POST", `/pages/${page}/panels`, { body: fields });
export const readPanel = (panel) => call("GET", `/panels/${panel}`);
export const dropPanel = (panel) => call("DELETE", `/panels/${panel.id}`);
export const changePanel = (panel, fields) => call("PATCH", `/panels/${panel.id}`, { body: fields, version: panel.version });
export const tieStill = (panel, reference) =>
  call("PUT", `/panels/${panel.id}/still`, { body: { reference }, version: panel.version });
export const untieStill = (panel) => call("DELETE", `/panels/${panel.id}/still`, { version: panel.version });
export const leaveAlone = (panel, check) => call("PUT", `/panels/${panel.id}/left-alone/${check}`, { version: panel.version });
export const measureAgain = (panel, check) => call("DELETE", `/panels/${panel.id}/left-alone/${check}`, { version: panel.version });

/** Of a page or of one panel. @param {"pages"|"panels"} kind */
export const readMoves = (kind, id) => call("GET", `/${kind}/${id}/stage-moves`);
export const move = (kind, row, fields) => call("POST", `/${kind}/${row.id}/stage-moves`, { body: fields, version: row.version });

export const revisionsOfPage = (page) => all(`/pages/${page}/revisions`);
/** Each without what was measured on it, of which a page that was drawn often has a lot. */
export const revisionsInBrief = (page) => all(`/pages/${page}/revisions-in-brief`);
export const readRevision = (revision) => call("GET", `/revisions/${revision}`);
/** @param {number} [before] else the one right before it */
export const readRegistration = (after, before) => call("GET", `/revisions/${after}/registration${before ? `?before=${before}` : ""}`);
export const correctPanels = (revision, panels, version) => call("PUT", `/revisions/${revision}/panels`, { body: { panels }, version });
export const withdraw = (revision) => call("PUT", `/revisions/${revision}/withdrawal`);
export const bringBack = (revision) => call("DELETE", `/revisions/${revision}/withdrawal`);
export const tryJobAgain = (job) => call("POST", `/jobs/${job}/tries`);
export const jobsOfRevision = (revision) => all(`/revisions/${revision}/jobs`);
export const askUnderlay = (revision, fields) => call("POST", `/revisions/${revision}/underlays`, { body: fields });
export const readUnderlay = (underlay) => call("GET", `/underlays/${underlay}`);
export const givePerspective = (panel, given) => call("PUT", `/panels/${panel.id}/perspective`, { body: given, version: panel.version });
export const freePerspective = (panel) => call("DELETE", `/panels/${panel.id}/perspective`, { version: panel.version });
