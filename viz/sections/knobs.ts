// The controls of "Try it": the change of the scenario file that each one makes, in the words and units of that file.

import type { Finding, RunResult } from "../../scenarios/result/result.ts";
import { baffleKnob, draggableBaffles } from "../cutaway/handles.ts";
import { towerSurface } from "../cutaway/tower.ts";
import { celsius, DKH_PER_MEQ, findingWords, inches, number, type Reader } from "../view/reader.ts";

/** Same form as a `Change` of `scenarios/load/save.ts`. */
export interface KnobChange {
  readonly path: readonly (string | number)[];
  readonly value: string | number;
}

interface Common {
  readonly id: string;
  readonly label: string;
  /** Whether the control is used less often and therefore shown on demand. */
  readonly more?: boolean;
  path(source: string): readonly (string | number)[];
}

export interface RangeKnob extends Common {
  readonly kind: "range";
  readonly min: number;
  readonly max: number;
  readonly step: number;
  /** Unit printed after the number and written into the file; "" for a bare number. */
  readonly unit: string;
  /** Value in the result's run, in `unit`; null when the result does not contain it. */
  readonly start: number | null;
}

export interface ChoiceKnob extends Common {
  readonly kind: "choice";
  /** Word in the file and word on the page; the value "" means: as in the file. */
  readonly options: readonly (readonly [value: string, text: string])[];
}

export type Knob = RangeKnob | ChoiceKnob;

const listed = (key: string, source: string): boolean => new RegExp(`^${key}:\\s*(\\n\\s*-|\\[)`, "m").test(source);
const inList =
  (key: string, ...rest: readonly string[]) =>
  (source: string): readonly (string | number)[] =>
    listed(key, source) ? [key, 0, ...rest] : [key, ...rest];
const nozzle =
  (alone: string, among: string) =>
  (source: string): readonly (string | number)[] =>
    /\bnozzles\s*:/.test(source) ? ["return", "nozzles", 0, among] : ["return", alone];
const always =
  (...path: readonly string[]) =>
  (): readonly string[] =>
    path;

const INCH_M = 0.0254;

const round = (v: number, step: number): number => Number((Math.round(v / step) * step).toPrecision(12));

type Lengths = Pick<RangeKnob, "unit" | "step" | "min" | "max" | "start">;

/** Range of a length, in whole millimetres or eighths of an inch. */
function lengths(reader: Reader, startM: number, minM: number, maxM: number): Lengths {
  const metric = reader.units === "metric";
  const perM = metric ? 1000 : 1 / INCH_M;
  const step = metric ? 1 : 0.125;
  return {
    unit: metric ? "mm" : "in",
    step,
    min: round(minM * perM, step),
    max: round(maxM * perM, step),
    start: round(startM * perM, step),
  };
}

/** Extent of a range: from the present value divided by this factor to the value times this factor. */
const REACH = 4;

/** A range around a positive amount, in steps of about a fiftieth of it. */
export function rangeAbout(now: number): Pick<RangeKnob, "min" | "max" | "step" | "start"> {
  const size = Number(`1e${now.toExponential().split("e")[1]}`);
  const step = now / size < 2 ? size / 50 : now / size < 5 ? size / 20 : size / 10;
  const start = Number(now.toPrecision(3));
  return {
    step: Number(step.toPrecision(3)),
    min: Math.max(step, round(now / REACH, step)),
    max: round(now * REACH, step),
    start,
  };
}

/** Input of the control groups. */
interface KnobInput {
  readonly result: RunResult;
  readonly reader: Reader;
}

function levelKnobs({ result, reader }: KnobInput): readonly Knob[] {
  const { rig } = result;
  return [
    {
      kind: "range",
      id: "fill",
      label: "Water in the return chamber",
      path: always("sump", "water"),
      ...lengths(reader, rig.sump.runningLevelM, rig.return.pump.intakeM, rig.sump.heightM),
    },
  ];
}

function nozzleKnobs({ result, reader }: KnobInput): readonly Knob[] {
  const { rig } = result;
  const first = rig.return.nozzles[0];
  if (!first) return [];
  const crest = Math.max(...(rig.displays[0]?.overflows.map((o) => o.crestZ) ?? [0]));
  const depth: Knob = {
    kind: "range",
    id: "nozzle",
    label: "Nozzle tip below the surface",
    path: nozzle("outlet", "depth"),
    ...lengths(reader, Math.max(0.005, crest + 0.012 - first.tipZ), 0.005, 0.3),
  };
  if (!first.breakHole) return [depth];
  const hole: Knob = {
    kind: "choice",
    id: "hole",
    label: "Siphon-break hole",
    path: nozzle("hole", "hole"),
    options: [
      ["", "clear"],
      ["none", "blocked"],
    ],
  };
  return [depth, hole];
}

/** Tops of baffles, only where the file gives them, because otherwise they are derived. */
function baffleKnobs({ result, reader }: KnobInput): readonly Knob[] {
  const { rig, source } = result;
  if (!/^\s+baffles:/m.test(source)) return [];
  return draggableBaffles(rig).map(
    (i): Knob => ({
      kind: "range",
      more: true,
      id: baffleKnob(i),
      label: `Top of baffle ${i + 1}`,
      path: () => ["sump", "baffles", i, "top"],
      ...lengths(reader, rig.sump.baffles[i]!.topM, 0.05, rig.sump.heightM),
    }),
  );
}

function powerKnobs({ result }: KnobInput): readonly Knob[] {
  const { rig, inputs } = result;
  return [
    {
      kind: "range",
      id: "cut",
      label: "Length of the power cut",
      path: always("power cut", "for"),
      unit: "h",
      min: 1,
      max: Math.max(48, inputs.cutHours),
      step: 1,
      start: inputs.cutHours,
    },
    {
      kind: "range",
      more: true,
      id: "valve",
      label: "Throttle valve of the return",
      path: always("return", "valve"),
      unit: "%",
      min: 10,
      max: 100,
      step: 5,
      start: Math.round(rig.return.valveOpenShare * 100),
    },
  ];
}

function stockKnobs({ result }: KnobInput): readonly Knob[] {
  const { source, inputs } = result;
  const { firstGroup } = inputs;
  const stocked = /^stock:/m.test(source);
  const count: readonly Knob[] =
    stocked && firstGroup
      ? [
          {
            kind: "range",
            id: "stock",
            label: "Animals in the first group",
            path: always("stock", "0", "count"),
            unit: "",
            min: 1,
            max: Math.max(10, 3 * firstGroup.count),
            step: 1,
            start: firstGroup.count,
          },
        ]
      : [];
  const foodNow = inputs.foodGPerDay ?? firstGroup?.foodGPerDay ?? 0;
  const food = { kind: "range", id: "food", unit: "g/day", ...(foodNow > 0 ? rangeAbout(foodNow) : rangeAbout(1)) } as const;
  if (/^food:/m.test(source))
    return [
      ...count,
      {
        ...food,
        label: "Food when fully stocked",
        path: (s) => (/^food:\s*(\{|\n)/m.test(s) ? ["food", "amount"] : ["food"]),
      },
    ];
  if (firstGroup && stocked) return [...count, { ...food, label: "Food of the first group", path: always("stock", "0", "food") }];
  return count;
}

function waterKnobs({ result, reader }: KnobInput): readonly Knob[] {
  const { rig, inputs } = result;
  const metric = reader.units === "metric";
  return [
    {
      kind: "range",
      id: "temperature",
      label: "Water temperature",
      path: always("water", "temperature"),
      unit: metric ? "°C" : "°F",
      min: metric ? 15 : 59,
      max: metric ? 32 : 90,
      step: 1,
      start: Math.round(celsius(reader, rig.waterTemperatureC)),
    },
    {
      kind: "range",
      more: true,
      id: "ph",
      label: "pH of the tap water",
      path: always("tap", "ph"),
      unit: "",
      min: 5.5,
      max: 8.6,
      step: 0.1,
      start: round(inputs.tapPh, 0.1),
    },
    {
      kind: "range",
      more: true,
      id: "kh",
      label: "KH of the tap water",
      path: always("tap", "kh"),
      unit: "dKH",
      min: 0,
      max: 20,
      step: 0.5,
      start: round(inputs.tapAlkalinityEqPerM3 * DKH_PER_MEQ, 0.5),
    },
  ];
}

function filterKnobs({ result, reader }: KnobInput): readonly Knob[] {
  const tower = result.rig.towers[0];
  const bacteria: Knob = {
    kind: "choice",
    id: "seed",
    label: "Bacteria brought along",
    path: always("seed"),
    options: [
      ["", "as in the file"],
      ["none", "none"],
      ["bottle", "a starter culture"],
      ["gravel", "a handful of gravel"],
      ["mature", "a whole mature filter"],
    ],
  };
  if (!tower) return [bacteria];
  const surface = towerSurface(result.nitrogen.surfaces, tower.id);
  return [
    bacteria,
    {
      kind: "range",
      more: true,
      id: "media",
      label: "Depth of the media",
      path: inList("tower", "depth"),
      ...lengths(reader, tower.mediaDepthM, 0.05, Math.max(0.6, tower.mediaDepthM * 1.5)),
    },
    {
      kind: "range",
      more: true,
      id: "wetted",
      label: "Share of the media that is wetted",
      path: inList("tower", "wetted"),
      unit: "%",
      min: 5,
      max: 100,
      step: 5,
      start: surface === undefined ? null : round((surface.wettedAreaM2 / surface.areaM2) * 100, 5),
    },
  ];
}

/** The controls that fit this system, the most used first. Controls for parts that the rig does not have are omitted. */
export function knobs(result: RunResult, reader: Reader): readonly Knob[] {
  const given = { result, reader };
  const groups = [levelKnobs, nozzleKnobs, powerKnobs, stockKnobs, filterKnobs, waterKnobs, baffleKnobs];
  return groups.flatMap((group) => group(given));
}

/** Value of a slider that has not been moved. */
export const restingValue = (k: RangeKnob): number =>
  Math.min(k.max, Math.max(k.min, k.start ?? round((k.min + k.max) / 2, k.step)));

const decimalsOf = (step: number): number => (Number.isInteger(step) ? 0 : step < 0.1 ? (step < 0.01 ? 3 : 2) : 1);

/** The value of a control as text. */
export const knobText = (reader: Reader, k: RangeKnob, value: number): string =>
  k.unit === "in" ? inches(value * INCH_M) : `${number(reader, value, decimalsOf(k.step))}${k.unit ? ` ${k.unit}` : ""}`;

/** The change of the scenario file for a value of a control. */
export const changeOf = (knob: Knob, value: string, source: string): KnobChange => ({
  path: knob.path(source).map((step) => (/^\d+$/.test(String(step)) ? Number(step) : step)),
  value: knob.kind === "choice" ? value : knob.unit === "" ? Number(value) : `${value} ${knob.unit}`,
});

/** One difference of a changed run. */
export interface Difference {
  /** "HOLDS becomes FLOODS", "new", "no longer", or the word itself. */
  readonly what: string;
  readonly now: string | null;
  readonly before: string | null;
}

/**
 * Findings whose word or sentence has changed.
 * @param whole false when the second run did not compute faults and fill levels, so that a missing finding has no meaning
 */
export function differencesInWords(before: RunResult, after: RunResult, reader: Reader, whole: boolean): readonly Difference[] {
  const textOf = (of: RunResult, f: Finding): string => findingWords(reader, of, f).text;
  const list: Difference[] = [];
  for (const now of after.findings) {
    const was = before.findings.find((f) => f.id === now.id);
    const text = textOf(after, now);
    if (!was) list.push({ what: `new: ${now.word}`, now: text, before: null });
    else if (textOf(before, was) !== text)
      list.push({
        what: was.word === now.word ? now.word : `${was.word} becomes ${now.word}`,
        now: text,
        before: textOf(before, was),
      });
  }
  if (whole)
    for (const was of before.findings)
      if (!after.findings.some((f) => f.id === was.id))
        list.push({ what: `no longer: ${was.word}`, now: null, before: textOf(before, was) });
  return list;
}
