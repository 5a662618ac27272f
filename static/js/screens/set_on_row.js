import { Problem } from "../api/http.js";
import { readPage, readPanel } from "../api/pages.js";
import { RowEdit } from "../api/row_edit.js";
import { attempt } from "../elements/slips.js";

/**
 * For a dialog that sets one thing about a page or a panel, as it was when the dialog was opened. What else changed there meanwhile stands
 * in nobody's way; where that very thing was set by somebody else, it is said, and the second time one's own takes its place.
 * @param {"pages"|"panels"} kind
 * @param {(row: any) => any} seenIn what is set, as the row has it
 * @returns {(send: (row: any) => Promise<any>, options?: {done?: string, onRefusal?: (problem: Problem) => any}) => Promise<any>} the row after
 *   it, or undefined
 */
export function setterOn(kind, row, seenIn) {
  const read = kind === "pages" ? readPage : readPanel;
  const at = { row };
  return (send, options) => attempt(async () => {
    const edit = new RowEdit(at.row, { send, read: ({ id }) => read(id), fieldsOf: (one) => ({ seen: JSON.stringify(seenIn(one)) }) });
    const { conflicts } = await edit.keep({ seen: null });
    at.row = edit.row;
    if ("seen" in conflicts) throw new Problem({ detail: "Somebody set this meanwhile. Do it once more, and yours takes its place." }, 412);
    return edit.row;
  }, options);
}
