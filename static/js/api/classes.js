import { all, call } from "./http.js";

export const addClass = (fields) => call("POST", "/classes", { body: fields });
export const readClass = (id) => call("GET", `/classes/${id}`);
export const changeClass = (id, fields) => call("PATCH", `/classes/${id}`, { body: fields });
export const studentsOf = (id) => all(`/classes/${id}/enrolments`);
export const enrol = (id, fields) => call("POST", `/classes/${id}/enrolments`, { body: fields });
export const changeEnrolment = (id, fields) => call("PATCH", `/enrolments/${id}`, { body: fields });
export const previewRoster = (id, csv) => call("POST", `/classes/${id}/roster-previews`, { body: { csv } });
export const importRoster = (id, csv, days) => call("POST", `/classes/${id}/roster-imports`, { body: { csv, days } });
export const invitationsOf = (id) => all(`/classes/${id}/invitations`);
export const invite = (id, fields) => call("POST", `/classes/${id}/invitations`, { body: fields });
export const takeBackInvitation = (id) => call("DELETE", `/invitations/${id}`);
export const progressOf = (enrolment) => call("GET", `/enrolments/${enrolment}/progress`);
export const deletionOf = (enrolment) => call("GET", `/enrolments/${enrolment}/deletion`);
export const deleteStudent = (enrolment) => call("POST", `/enrolments/${enrolment}/deletion`);
export const exportOf = (enrolment) => `/api/v1/enrolments/${enrolment}/export`;
