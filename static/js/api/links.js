/** By the secret that a link carries, signed in or not. */
import { call } from "./http.js";

export const previewInvitation = (secret) => call("POST", "/invitation-previews", { body: { secret } });
export const acceptInvitation = (fields) => call("POST", "/invitation-acceptances", { body: fields });
export const previewSeat = (secret) => call("POST", "/seat-invitation-previews", { body: { secret } });
export const acceptSeat = (fields) => call("POST", "/seat-invitation-acceptances", { body: fields });
