/** Dialogs whose script is fetched when they are first opened: the Desk comes up without them. */

export const eyeLevelDialog = async (...about) => (await import("./eye_level_dialog.js")).eyeLevelDialog(...about);
export const movesDialog = async (...about) => (await import("./moves_dialog.js")).movesDialog(...about);
export const underlayDialog = async (...about) => (await import("./underlay_dialog.js")).underlayDialog(...about);
export const uploadDialog = async (...about) => (await import("./upload_dialog.js")).uploadDialog(...about);
