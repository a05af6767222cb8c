// One line of a CSV table.

export type Cell = string | number | null;

/**
 * One cell as RFC 4180 requires. Text that a spreadsheet would take for a formula gets a leading apostrophe; numbers keep seven
 * significant digits.
 */
function cell(value: Cell): string {
  if (value === null) return "";
  if (typeof value === "number") return String(Number(value.toPrecision(7)));
  const text = /^[=+\-@\t\r\n]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** One line of a table. */
export const csvLine = (cells: readonly Cell[]): string => `${cells.map(cell).join(",")}\r\n`;
