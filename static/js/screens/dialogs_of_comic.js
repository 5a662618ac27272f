/** Dialogs of a whole comic whose script is fetched when they are first opened: no Desk opens them. */

export const boardNoteDialog = async (...about) => (await import("./wall_notes.js")).boardNoteDialog(...about);
export const comicDialog = async (...about) => (await import("./comic_dialog.js")).comicDialog(...about);
export const pageDialog = async (...about) => (await import("./wall_page_dialog.js")).pageDialog(...about);
export const paperDialog = async (...about) => (await import("./paper_dialog.js")).paperDialog(...about);
export const peopleDialog = async (...about) => (await import("./people_dialog.js")).peopleDialog(...about);
export const scriptDialog = async (...about) => (await import("./script_dialog.js")).scriptDialog(...about);
export const sheetDialog = async (...about) => (await import("./sheet_dialog.js")).sheetDialog(...about);
export const uploadMany = async (...about) => (await import("./upload_many.js")).uploadMany(...about);
