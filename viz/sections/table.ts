// The one way to make a table, so that all of them scroll, have a name and are read out alike.
import { type Child, h, type Markup } from "../view/markup.ts";

/**
 * A wide table scrolls in its own place, by key too.
 * @param focusable false where something inside the table takes the focus
 */
export const scroll = (label: string, table: Markup, focusable = true): Markup =>
  h("div", { class: "table-scroll", tabindex: focusable ? 0 : null, role: "region", "aria-label": label }, table);

/** Contents of one row; the first heads it. */
export type Row = readonly Child[];

export interface TableLooks {
  readonly caption?: string;
  /** Columns of numbers, counted from nought. */
  readonly numbers?: readonly number[];
  /** Columns of sources, in small print. */
  readonly sources?: readonly number[];
  /** Rows of sums. */
  readonly sums?: readonly Row[];
  /** A class of its own. */
  readonly looks?: string;
}

/** @param heads headings of the columns; none leaves out the head */
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
      // Tables that are read as prose stack their cells where columns would be a word wide.
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
