import { call } from "./http.js";

export const rename = (name) => call("PATCH", "/me", { body: { name } });
export const changePassword = (old, fresh) => call("PUT", "/me/password", { body: { old, new: fresh } });
export const takeBackTokens = () => call("DELETE", "/tokens");
