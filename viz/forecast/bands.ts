// Bands of a forecast before and after the readings, and the readings as intervals.
import { ticks } from "d3";
import type { Posterior } from "../../scenarios/forecast/posterior.ts";
import type { CurveBand } from "../../scenarios/forecast/summary.ts";
import { linear } from "../charts/scale.ts";
import { bandPath, curvePath } from "../charts/thin.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { DKH_PER_MEQ } from "../view/reader.ts";

const WIDTH = 900;
const HEIGHT = 210;
const LEFT = 52;
const RIGHT = 14;
const TOP = 30;
const BOTTOM = 26;

type ReadingKey = "ammonia" | "nitrite" | "nitrate" | "ph" | "alkalinityEqPerM3";

interface Look {
  readonly title: string;
  readonly unit: string;
  readonly factor: number;
  readonly readings: ReadingKey;
  readonly steps: readonly number[] | null;
  readonly zero: boolean;
}

function lookOf({ scales }: Posterior, curve: CurveBand["curve"]): Look {
  if (curve === "ph") return { title: "pH", unit: "", factor: 1, readings: "ph", steps: null, zero: false };
  if (curve === "alk")
    return {
      title: "Carbonate hardness (KH)",
      unit: "dKH",
      factor: DKH_PER_MEQ,
      readings: "alkalinityEqPerM3",
      steps: null,
      zero: true,
    };
  const species = ({ tan: "ammonia", no2: "nitrite", no3: "nitrate" } as const)[curve];
  const scale = scales.find((one) => one.species === species)!;
  return {
    title: species.charAt(0).toUpperCase() + species.slice(1),
    unit: "mg/L on your kit",
    factor: scale.perN[0],
    readings: species,
    steps: scale.steps,
    zero: true,
  };
}

/** Interval from halfway to the step below to halfway to the step above. */
function spanOf(value: number, steps: readonly number[] | null): readonly [number, number] {
  if (!steps) return [value, value];
  const below = steps.findLast((step) => step < value) ?? value;
  const above = steps.find((step) => step > value);
  return [(below + value) / 2, above === undefined ? Number.POSITIVE_INFINITY : (above + value) / 2];
}

export function bandChart(result: Posterior, band: CurveBand): Markup {
  const look = lookOf(result, band.curve);
  const { days } = band;
  const scaled = (values: readonly number[]): number[] => values.map((value) => value * look.factor);
  const [before, after] = [band.before, band.after].map((part) => ({
    early: scaled(part.early),
    likely: scaled(part.likely),
    late: scaled(part.late),
  }));
  const own = result.readings.flatMap((reading) => {
    const value = reading[look.readings];
    if (value === null) return [];
    const shown = look.readings === "alkalinityEqPerM3" ? value * DKH_PER_MEQ : value;
    return [{ day: reading.day, value: shown, span: spanOf(shown, look.steps) }];
  });
  const updated = result.summary.readings > 0;
  const values = [...after.late, ...(updated ? before.late : []), ...own.map(({ value }) => value)];
  const high = Math.max(...values) * 1.08 || 1;
  const low = look.zero ? 0 : Math.min(...after.early, ...own.map(({ value }) => value)) - 0.2;
  const x = linear([0, days[days.length - 1]], [LEFT, WIDTH - RIGHT]);
  const y = linear([low, high], [HEIGHT - BOTTOM, TOP]);
  const xs = days.map(x);
  const area = (part: typeof before): string => bandPath(xs, part.early.map(y), part.late.map(y));
  return h(
    "svg",
    {
      viewBox: `0 0 ${WIDTH} ${HEIGHT}`,
      role: "img",
      "aria-label": `${look.title}: early, likely and late course over ${Math.round(days[days.length - 1])} days${updated ? ", before and after the readings" : ""}`,
    },
    h("text", { x: 0, y: 16, class: "panel-title" }, look.title, h("tspan", { class: "soft", dx: 8 }, look.unit)),
    ticks(low, high, 4).map((value) => [
      h("path", { class: "grid", d: `M${LEFT},${y(value)}H${WIDTH - RIGHT}` }),
      h("text", { class: "soft", x: LEFT - 7, y: y(value) + 4, "text-anchor": "end" }, String(Number(value.toPrecision(6)))),
    ]),
    updated && h("path", { class: "before", d: area(before) }),
    h("path", { class: "after", d: area(after) }),
    h("path", { class: "likely", d: curvePath(xs, after.likely.map(y)) }),
    own.map(({ day, value, span: [from, to] }) => [
      h("path", { class: "reading", d: `M${x(day)},${y(from)}V${y(Math.min(high, to))}` }),
      h("rect", { class: "reading", x: x(day) - 3, y: y(value) - 3, width: 6, height: 6 }),
    ]),
    h("path", { class: "axis", d: `M${LEFT},${y(low)}H${WIDTH - RIGHT}` }),
    ticks(0, days[days.length - 1], 8).map(
      (day, i): Child =>
        h(
          "text",
          { class: "soft", x: x(day), y: HEIGHT - 8, "text-anchor": i === 0 ? "start" : "middle" },
          i === 0 ? `day ${day}` : String(day),
        ),
    ),
  );
}
