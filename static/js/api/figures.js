import { all, call } from "./http.js";

export const castOf = (board) => all(`/boards/${board}/characters`);
export const addCharacter = (board, fields) => call("POST", `/boards/${board}/characters`, { body: fields });
export const changeCharacter = (character, fields) => call("PATCH", `/characters/${character.id}`, { body: fields, version: character.version });
export const mergeCharacters = (kept, other) => call("POST", `/characters/${kept.id}/mergings`, { body: { character: other } });
export const removeCharacter = (character) => call("DELETE", `/characters/${character.id}`);

export const figuresOn = (revision) => all(`/revisions/${revision}/figures`);
export const markFigure = (revision, fields) => call("POST", `/revisions/${revision}/figures`, { body: fields });
export const changeFigure = (figure, fields) => call("PATCH", `/figures/${figure.id}`, { body: { revision: figure.revision, ...fields }, version: figure.version });
export const removeFigure = (figure) => call("DELETE", `/figures/${figure.id}`);

export const proposalsOn = (revision) => all(`/revisions/${revision}/figure-proposals`);
/** @param {"confirmed"|"refused"|"proposed"} said the last takes an answer back */
export const answerProposal = (proposal, said) => call("PATCH", `/figure-proposals/${proposal.id}`, { body: { state: said }, version: proposal.version });

export const addSheet = (character, fields) => call("POST", `/characters/${character.id}/sheets`, { body: fields });
export const changeSheet = (sheet, fields) => call("PATCH", `/model-sheets/${sheet.id}`, { body: fields, version: sheet.version });
export const removeSheet = (sheet) => call("DELETE", `/model-sheets/${sheet.id}`);

/** All posts of a panel at once. @param {object} panel as read @param {{posts: object[], eye_height_m: number|null, revision: number}} fields */
export const keepPosts = (panel, fields) => call("PUT", `/panels/${panel.id}/figure-posts`, { body: fields, version: panel.version });
