import { call } from "./http.js";

export const previewScript = (board, text) => call("POST", `/boards/${board}/script-previews`, { body: { text } });
export const takeScript = (board, text, replaces) => call("POST", `/boards/${board}/scripts`, { body: { text, replaces } });
