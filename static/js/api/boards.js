import { all, call, sendForm } from "./http.js";

export const readBoard = (board) => call("GET", `/boards/${board}`);
export const addBoard = (fields) => call("POST", "/boards", { body: fields });
export const membersOf = (board) => all(`/boards/${board}/members`);
export const addMember = (board, username, roles) => call("POST", `/boards/${board}/members`, { body: { username, roles } });
export const changeMember = (member, roles) => call("PATCH", `/members/${member}`, { body: { roles } });
export const removeMember = (member) => call("DELETE", `/members/${member}`);
export const referencesOf = (board) => all(`/boards/${board}/references`);
export const removeReference = (reference) => call("DELETE", `/references/${reference}`);
export const giveStillCamera = (reference, fields) => call("PUT", `/references/${reference}/camera`, { body: fields });
export const sendStillScene = (reference, gltf, camera) => sendForm("PUT", `/references/${reference}/camera`, { gltf, camera });
export const dropStillCamera = (reference) => call("DELETE", `/references/${reference}/camera`);
export const sheetsOf = (board) => all(`/boards/${board}/sheets`);
export const readSheet = (sheet) => call("GET", `/sheets/${sheet}`);
export const cutSheet = (sheet, cuts) => call("PUT", `/sheets/${sheet}/cuts`, { body: { cuts } });
