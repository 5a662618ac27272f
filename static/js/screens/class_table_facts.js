/** What is worked out of the table's rows. */

/** @param {{findings: Record<string, number>}} row */
export const total = (row) => Object.values(row.findings).reduce((sum, n) => sum + n, 0);

/**
 * The rows by one column; who is equal stays by name.
 * @param {any[]} rows @param {{key: string, by: (row: any) => string|number}[]} columns @param {{by: string, down: boolean}} sort
 */
export function sorted(rows, columns, sort) {
  const column = columns.find((one) => one.key === sort.by) ?? columns[0];
  const byName = (a, b) => a.student.localeCompare(b.student);
  const compare = (a, b) => {
    const [first, second] = [column.by(a), column.by(b)];
    const order = typeof first === "string" ? first.localeCompare(second) : first - second;
    return (sort.down ? -order : order) || byName(a, b);
  };
  return [...rows].sort(compare);
}
