// The common table component: all tables scroll, have a name, and read the same in a screen reader.
import { type Child, h, type Markup } from "../view/markup.ts";

/**
 * A wide table scrolls inside its own box, also by keyboard.
 * @param focusable false where an element inside the table takes the focus
 */
export const scroll = (label: string, table: Markup, focusable = true): Markup =>
  h("div", { class: "table-scroll", tabindex: focusable ? 0 : null, role: "region", "aria-label": label }, table);

/** Cells of one row; the first one is its heading. */
export type Row = readonly Child[];

export interface TableLooks {
  readonly caption?: string;
  /** Indices of columns with numbers, from 0. */
  readonly numbers?: readonly number[];
  /** Indices of columns with sources, which are set in small print. */
  readonly sources?: readonly number[];
  /** Rows with sums. */
  readonly sums?: readonly Row[];
  /** Additional class. */
  readonly looks?: string;
}

/** @param heads headings of the columns; an empty list omits the header */
export function table(label: string, heads: readonly Child[], rows: readonly Row[], t: TableLooks = {}): Markup {
  const looks = (i: number): string | null => (t.numbers?.includes(i) ? "n" : t.sources?.includes(i) ? "sources" : null);
  const line = (row: Row): Markup =>
    h(
      "tr",
      {},
      row.map((cell, i) => h(i === 0 ? "th" : "td", { scope: i === 0 ? "row" : null, class: looks(i) }, cell)),
    );
  return scroll(
    label,
    h(
      "table",
      // Tables of text stack their cells where a column would be one word wide.
      { class: t.looks ?? (t.sources ? "stacks" : null) },
      t.caption !== undefined && h("caption", {}, t.caption),
      heads.length > 0 &&
        h(
          "thead",
          {},
          h(
            "tr",
            {},
            heads.map((head, i) => h("th", { scope: "col", class: looks(i) === "n" ? "n" : null }, head)),
          ),
        ),
      h("tbody", {}, rows.map(line)),
      t.sums && t.sums.length > 0 && h("tfoot", {}, t.sums.map(line)),
    ),
  );
}
