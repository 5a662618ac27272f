import { all, call } from "./http.js";

export const notesOfPage = (page, query = "") => all(`/pages/${page}/notes${query}`);
export const notesOfBoard = (board, query = "") => all(`/boards/${board}/notes${query}`);
export const readNote = (note) => call("GET", `/notes/${note}`);
export const pinNote = (page, note, key) => call("POST", `/pages/${page}/notes`, { body: note, key });
export const pinNoteOnBoard = (board, note) => call("POST", `/boards/${board}/notes`, { body: note });
export const notesOnBoardItself = (board) => all(`/boards/${board}/notes?scope=board`);
export const changeNote = (note, fields) => call("PATCH", `/notes/${note.id}`, { body: fields, version: note.version });
export const dropNote = (note) => call("DELETE", `/notes/${note.id}`, { version: note.version });
export const reply = (note, body, key) => call("POST", `/notes/${note.id}/replies`, { body: { body }, key });
export const sendHeld = (board, notes) => call("POST", `/boards/${board}/sendings`, { body: notes ? { notes } : {} });

const NOUNS = { answered: "answer", settled: "settlement", stet: "stet" };

/** @param {"answered"|"settled"|"stet"} state */
export const bringTo = (note, state) => call("PUT", `/notes/${note.id}/${NOUNS[state]}`, { version: note.version });

/** Takes the answer, the settlement or the stet back. */
export const openAgain = (note) =>
  call("DELETE", `/notes/${note.id}/${NOUNS[note.state] ?? "settlement"}`, { version: note.version });
