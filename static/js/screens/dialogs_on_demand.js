/** Dialogs of a page whose script is fetched when they are first opened: the screens come up without them. */

export const alternatesDialog = async (...about) => (await import("./alternates_dialog.js")).alternatesDialog(...about);
export const eyeLevelDialog = async (...about) => (await import("./eye_level_dialog.js")).eyeLevelDialog(...about);
export const lostPanelDialog = async (...about) => (await import("./lost_panel_dialog.js")).lostPanelDialog(...about);
export const movesDialog = async (...about) => (await import("./moves_dialog.js")).movesDialog(...about);
export const noteListDialog = async (...about) => (await import("./note_list_dialog.js")).noteListDialog(...about);
export const panelHistoryDialog = async (...about) => (await import("./panel_history_dialog.js")).panelHistoryDialog(...about);
export const sameAsDialog = async (...about) => (await import("./same_as_dialog.js")).sameAsDialog(...about);
export const sendAll = async (...about) => (await import("./send_held.js")).sendAll(...about);
export const stillDialog = async (...about) => (await import("./still_dialog.js")).stillDialog(...about);
export const stillPlaceDialog = async (...about) => (await import("./still_place_dialog.js")).stillPlaceDialog(...about);
export const takePanelOut = async (...about) => (await import("./take_panel_out.js")).takePanelOut(...about);
export const underlayDialog = async (...about) => (await import("./underlay_dialog.js")).underlayDialog(...about);
export const uploadDialog = async (...about) => (await import("./upload_dialog.js")).uploadDialog(...about);
export const wordsDialog = async (...about) => (await import("./words_dialog.js")).wordsDialog(...about);
