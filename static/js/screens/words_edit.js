import { changePage, changePanel, readPage, readPanel } from "../api/pages.js";
import { RowEdit } from "../api/row_edit.js";

/** What happens and what is said, on a page or in a panel. @param {"pages"|"panels"} kind */
export function wordsEdit(kind, row) {
  const [send, read] = kind === "pages" ? [changePage, readPage] : [changePanel, readPanel];
  return new RowEdit(row, { send, read: ({ id }) => read(id), fieldsOf: ({ happens, said }) => ({ happens, said }) });
}
