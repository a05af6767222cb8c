// Each chart as text and as a table, for readers who cannot see it or need the numbers.
import { h, type Markup } from "../view/markup.ts";
import { figure, number, type Reader } from "../view/reader.ts";
import { type Line, type Panel, valueAt } from "./panel.ts";

export interface Shape {
  readonly start: number;
  readonly end: number;
  readonly high: number;
  readonly highDay: number;
  readonly low: number;
  readonly lowDay: number;
}

/** The characteristic points of a line; null when it has no values. */
export function shapeOf(line: Line): Shape | null {
  let shape: Shape | null = null;
  line.values.forEach((v, i) => {
    if (v === null) return;
    const day = line.days[i]!;
    if (!shape) shape = { start: v, end: v, high: v, highDay: day, low: v, lowDay: day };
    else
      shape = {
        ...shape,
        end: v,
        ...(v > shape.high ? { high: v, highDay: day } : {}),
        ...(v < shape.low ? { low: v, lowDay: day } : {}),
      };
  });
  return shape;
}

/** A description of the panel in one or two sentences. */
export function summarise(panel: Panel, reader: Reader): string {
  const parts = panel.lines.map((line) => {
    const s = shapeOf(line);
    if (!s) return `${line.label}: no values.`;
    const day = (d: number): string => `day ${number(reader, d)}`;
    return `${line.label} starts at ${figure(reader, s.start)}, is highest at ${figure(reader, s.high)} on ${day(s.highDay)}, lowest at ${figure(reader, s.low)} on ${day(s.lowDay)} and ends at ${figure(reader, s.end)}.`;
  });
  const off = panel.ceiling !== null && panel.lines.some((l) => (shapeOf(l)?.high ?? 0) > (panel.ceiling ?? 0));
  const band = panel.bands[0]?.meaning;
  return `${panel.title}${panel.unit ? `, ${panel.unit}` : ""}. ${parts.join(" ")}${off ? ` Above ${figure(reader, panel.ceiling)} it is off the chart of the kit.` : ""}${band ? ` Band: ${band}.` : ""}`;
}

/** Values on about `rows` evenly spaced days, with the bands. */
export function panelTable(panel: Panel, days: number, reader: Reader, rows = 24): Markup {
  const step = Math.max(1, Math.ceil(days / rows));
  const list = Array.from({ length: Math.floor(days / step) + 1 }, (_, i) => i * step);
  const band = panel.bands.length > 0 ? panel.bands : [];
  return h(
    "div",
    { class: "table-scroll", tabindex: 0, role: "region", "aria-label": `Values of ${panel.title}` },
    h(
      "table",
      {},
      h("caption", {}, `${panel.title}${panel.unit ? `, ${panel.unit}` : ""}`),
      h(
        "thead",
        {},
        h(
          "tr",
          {},
          h("th", { scope: "col", class: "n" }, "Day"),
          panel.lines.map((l) => h("th", { scope: "col", class: "n" }, l.label)),
          band.map(() => [h("th", { scope: "col", class: "n" }, "low"), h("th", { scope: "col", class: "n" }, "high")]),
        ),
      ),
      h(
        "tbody",
        {},
        list.map((d) =>
          h(
            "tr",
            {},
            h("th", { scope: "row", class: "n" }, number(reader, d)),
            panel.lines.map((l) => h("td", { class: "n" }, figure(reader, valueAt(l, d)))),
            band.map((b) => [
              h(
                "td",
                { class: "n" },
                figure(reader, valueAt({ id: "", label: "", scenario: 0, days: b.days, values: b.low }, d)),
              ),
              h(
                "td",
                { class: "n" },
                figure(reader, valueAt({ id: "", label: "", scenario: 0, days: b.days, values: b.high }, d)),
              ),
            ]),
          ),
        ),
      ),
    ),
  );
}
