import { call } from "./http.js";

export const askReviewSheet = (board, notes) => call("POST", `/boards/${board}/review-sheets`, { body: { notes } });
export const readReviewSheet = (sheet) => call("GET", `/review-sheets/${sheet}`);
