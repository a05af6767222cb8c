// The controls of "Try it": what each one changes in the scenario file, in the words and units of that file.
import type { Finding, RunResult } from "../../scenarios/result/result.ts";
import { towerSurface } from "../cutaway/tower.ts";
import { celsius, DKH_PER_MEQ, findingWords, inches, number, type Reader } from "../view/reader.ts";

/** Same shape as a change of `scenarios/save.ts`. */
export interface KnobChange {
  readonly path: readonly (string | number)[];
  readonly value: string | number;
}

interface Common {
  readonly id: string;
  readonly label: string;
  readonly hint?: string;
  path(source: string): readonly (string | number)[];
}

export interface RangeKnob extends Common {
  readonly kind: "range";
  readonly min: number;
  readonly max: number;
  readonly step: number;
  /** Printed after the number and written into the file; "" for a bare number. */
  readonly unit: string;
  /** Value of the run in the result, in `unit`; null when the result does not carry it. */
  readonly start: number | null;
}

export interface ChoiceKnob extends Common {
  readonly kind: "choice";
  /** Word in the file and word on the page; the word "" stands for: as in the file. */
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

/** A length knob in mm or inches, its range spread about the present value. */
function lengthKnob(reader: Reader, common: Common, startM: number, minM: number, maxM: number): RangeKnob {
  const perM = reader.units === "metric" ? 1000 : 1 / INCH_M;
  const step = reader.units === "metric" ? 1 : 0.125;
  return {
    ...common,
    kind: "range",
    unit: reader.units === "metric" ? "mm" : "in",
    step,
    min: round(minM * perM, step),
    max: round(maxM * perM, step),
    start: round(startM * perM, step),
  };
}

/** The controls that fit this system; each is left out where the rig has no such part. */
export function knobs(result: RunResult, reader: Reader): readonly Knob[] {
  const { rig, source, inputs } = result;
  const tower = rig.towers[0];
  const wettedNow = tower && towerSurface(result.nitrogen, tower.id);
  const nozzle0 = rig.return.nozzles[0];
  const display = rig.displays[0];
  const crest = Math.max(...(display?.overflows.map((o) => o.crestZ) ?? [0]));
  const list: Knob[] = [];
  list.push(
    lengthKnob(
      reader,
      { id: "fill", label: "Water in the return chamber", path: always("sump", "water") },
      rig.sump.runningLevelM,
      rig.return.pump.intakeM,
      rig.sump.heightM,
    ),
  );
  if (nozzle0)
    list.push(
      lengthKnob(
        reader,
        { id: "nozzle", label: "Nozzle tip below the surface", path: nozzle("outlet", "depth") },
        Math.max(0.005, crest + 0.012 - nozzle0.tipZ),
        0.005,
        0.3,
      ),
    );
  if (nozzle0?.breakHole)
    list.push({
      kind: "choice",
      id: "hole",
      label: "Siphon-break hole",
      path: nozzle("hole", "hole"),
      options: [
        ["", "clear"],
        ["none", "blocked"],
      ],
    });
  list.push(
    {
      kind: "range",
      id: "valve",
      label: "Throttle valve of the return",
      path: always("return", "valve"),
      unit: "%",
      min: 10,
      max: 100,
      step: 5,
      start: Math.round(rig.return.valveOpenShare * 100),
    },
    {
      kind: "range",
      id: "cut",
      label: "Length of the power cut",
      path: always("power cut", "for"),
      unit: "h",
      min: 1,
      max: 48,
      step: 1,
      start: inputs.cutHours,
    },
  );
  if (/^stock:/m.test(source))
    list.push({
      kind: "range",
      id: "stock",
      label: "Animals in the first group",
      path: always("stock", "0", "count"),
      unit: "",
      min: 1,
      max: Math.max(60, 2 * (inputs.firstGroup?.count ?? 0)),
      step: 1,
      start: inputs.firstGroup?.count ?? null,
    });
  const foodNow = inputs.foodGPerDay ?? inputs.firstGroup?.foodGPerDay ?? 0;
  const food = {
    kind: "range",
    id: "food",
    unit: "g/day",
    min: 0.1,
    max: Math.max(20, Math.ceil(2 * foodNow)),
    step: 0.1,
  } as const;
  if (/^food:/m.test(source))
    list.push({
      ...food,
      label: "Food when fully stocked",
      path: (s) => (/^food:\s*(\{|\n)/m.test(s) ? ["food", "amount"] : ["food"]),
      start: inputs.foodGPerDay,
    });
  else if (inputs.firstGroup && /^stock:/m.test(source))
    list.push({
      ...food,
      label: "Food of the first group",
      path: always("stock", "0", "food"),
      start: round(inputs.firstGroup.foodGPerDay, 0.1),
    });
  list.push({
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
  });
  list.push({
    kind: "range",
    id: "temperature",
    label: "Water temperature",
    path: always("water", "temperature"),
    unit: reader.units === "metric" ? "°C" : "°F",
    min: reader.units === "metric" ? 15 : 59,
    max: reader.units === "metric" ? 32 : 90,
    step: 1,
    start: Math.round(celsius(reader, rig.waterTemperatureC)),
  });
  if (tower) {
    list.push(
      lengthKnob(
        reader,
        { id: "media", label: "Depth of the media", path: inList("tower", "depth") },
        tower.mediaDepthM,
        0.05,
        Math.max(0.6, tower.mediaDepthM * 1.5),
      ),
    );
    list.push({
      kind: "range",
      id: "wetted",
      label: "Share of the media that is wetted",
      path: inList("tower", "wetted"),
      unit: "%",
      min: 5,
      max: 100,
      step: 5,
      start: wettedNow === undefined ? null : round((wettedNow.wettedAreaM2 / wettedNow.areaM2) * 100, 5),
    });
  }
  list.push(
    {
      kind: "range",
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
      id: "kh",
      label: "KH of the tap water",
      path: always("tap", "kh"),
      unit: "dKH",
      min: 0,
      max: 20,
      step: 0.5,
      start: round(inputs.tapAlkalinityEqPerM3 * DKH_PER_MEQ, 0.5),
    },
  );
  return list;
}

/** Where an untouched slider stands. */
export const restingValue = (k: RangeKnob): number =>
  Math.min(k.max, Math.max(k.min, k.start ?? round((k.min + k.max) / 2, k.step)));

const decimalsOf = (step: number): number => (Number.isInteger(step) ? 0 : 1);

/** What stands beside a slider. */
export const knobText = (reader: Reader, k: RangeKnob, value: number): string =>
  k.unit === "in" ? inches(value * INCH_M) : `${number(reader, value, decimalsOf(k.step))}${k.unit ? ` ${k.unit}` : ""}`;

/** The change that a control stands for. */
export const changeOf = (knob: Knob, value: string, source: string): KnobChange => ({
  path: knob.path(source).map((step) => (/^\d+$/.test(String(step)) ? Number(step) : step)),
  value: knob.kind === "choice" ? value : knob.unit === "" ? Number(value) : `${value} ${knob.unit}`,
});

/**
 * What changed, in words: findings whose word or sentence is another one now.
 * @param whole false when the second run left out faults and marks, so that a missing sentence means nothing
 */
export function differencesInWords(before: RunResult, after: RunResult, reader: Reader, whole: boolean): readonly string[] {
  const textOf = (of: RunResult, f: Finding): string => findingWords(reader, of, f).text;
  const lines: string[] = [];
  for (const now of after.findings) {
    const was = before.findings.find((f) => f.id === now.id);
    const text = textOf(after, now);
    if (!was) lines.push(`New: ${now.word}. ${text}`);
    else if (textOf(before, was) !== text)
      lines.push(
        `${was.word === now.word ? now.word : `${was.word} becomes ${now.word}`}. ${text} Before: ${textOf(before, was)}`,
      );
  }
  if (whole)
    for (const was of before.findings)
      if (!after.findings.some((f) => f.id === was.id)) lines.push(`No longer: ${was.word}. ${textOf(before, was)}`);
  return lines;
}
