/**
 * A table as a grid: one cell is at hand, arrow keys take the next, Enter uses what is in it, or goes into it where that is more than one
 * thing: then arrow keys take the next of these, and Escape comes out again (ARIA Authoring Practices, "Grid").
 * @param {HTMLTableElement} table
 */
export function gridKeys(table) {
  table.setAttribute("role", "grid");
  const cells = () => [...table.rows].map((row) => [...row.cells]);
  takeOutOfTabs(table);
  table.addEventListener("focusin", ({ target }) => {
    const cell = target.closest("th, td");
    for (const other of table.querySelectorAll('[tabindex="0"]')) other.tabIndex = -1;
    if (cell) cell.tabIndex = 0;
  });
  table.addEventListener("keydown", (event) => {
    const cell = event.target.closest("th, td");
    const inner = [...cell.querySelectorAll("a, button")];
    if (event.key === "Enter" && event.target === cell && inner.length === 1) {
      // Else the same key would press what the click brings to hand: the "Close" of a dialog.
      event.preventDefault();
      return inner[0].click();
    }
    const to = within(cell, inner, event) ?? next(cells(), cell, event);
    if (!to) return undefined;
    event.preventDefault();
    to.focus();
    return to.scrollIntoView({ block: "nearest", inline: "nearest" });
  });
}

/** @param {HTMLElement[]} inner what may be used in the cell */
function within(cell, inner, { key, target }) {
  if (target === cell) return key === "Enter" ? inner[0] : undefined;
  if (key === "Escape") return cell;
  const step = { ArrowLeft: -1, ArrowRight: 1 }[key];
  return step && inner[inner.indexOf(target) + step];
}

/** Again after rows were drawn anew: one stop for Tab, the cell that has the focus or the first. @param {HTMLTableElement} table */
export function takeOutOfTabs(table) {
  for (const one of table.querySelectorAll("th, td, a, button")) one.tabIndex = -1;
  const at = document.activeElement?.closest("th, td");
  const cell = at && table.contains(at) ? at : table.rows[0]?.cells[0];
  if (cell) cell.tabIndex = 0;
}

/** @param {HTMLTableCellElement[][]} rows @returns {HTMLTableCellElement|undefined} the cell that the key leads to */
function next(rows, cell, { key, ctrlKey }) {
  const down = rows.findIndex((row) => row.includes(cell));
  const across = rows[down].indexOf(cell);
  const last = rows[down].length - 1;
  const steps = {
    ArrowLeft: [down, across - 1], ArrowRight: [down, across + 1], ArrowUp: [down - 1, across], ArrowDown: [down + 1, across],
    Home: [ctrlKey ? 0 : down, 0], End: [ctrlKey ? rows.length - 1 : down, last],
  };
  const [row, column] = steps[key] ?? [];
  return rows[row]?.[column];
}
