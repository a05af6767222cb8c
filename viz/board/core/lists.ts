// Lists to pick from: animals by size class, pipes by nominal size, kit scales by the leaflet's wording. Generic: no maker, no product.
import type { Plain } from "../../../scenarios/load/edits.ts";

export interface Pick {
  readonly label: string;
  readonly note: string;
  readonly value: Plain;
}

export interface PickList {
  readonly title: string;
  readonly source: string;
  readonly picks: readonly Pick[];
}

const oneDecimal = (mm: number): string => String(Number(mm.toFixed(1)));

const pipes = (title: string, source: string, sizes: readonly (readonly [name: string, boreMm: number])[]): PickList => ({
  title,
  source,
  picks: sizes.map(([name, bore]) => ({ label: name, note: `bore ${oneDecimal(bore)} mm`, value: `${oneDecimal(bore)} mm` })),
});

const INCH_MM = 25.4;

/** True bores of pipes by the size they are sold under: outer diameter less two walls. Figures from memory of the named tables. */
export const PIPES: readonly PickList[] = [
  pipes("Metric pressure pipe, 16 bar", "EN ISO 1452-2, PVC-U, PN 16: outer diameter less two walls", [
    ["20 mm", 20 - 2 * 1.5],
    ["25 mm", 25 - 2 * 1.9],
    ["32 mm", 32 - 2 * 2.4],
    ["40 mm", 40 - 2 * 3.0],
    ["50 mm", 50 - 2 * 3.7],
    ["63 mm", 63 - 2 * 4.7],
  ]),
  pipes("US Schedule 40", "ASTM D1785 with the dimensions of ASME B36.10", [
    ["1/2 in", (0.84 - 2 * 0.109) * INCH_MM],
    ["3/4 in", (1.05 - 2 * 0.113) * INCH_MM],
    ["1 in", (1.315 - 2 * 0.133) * INCH_MM],
    ["1 1/4 in", (1.66 - 2 * 0.14) * INCH_MM],
    ["1 1/2 in", (1.9 - 2 * 0.145) * INCH_MM],
    ["2 in", (2.375 - 2 * 0.154) * INCH_MM],
  ]),
  pipes("US Schedule 80", "ASTM D1785 with the dimensions of ASME B36.10", [
    ["1/2 in", (0.84 - 2 * 0.147) * INCH_MM],
    ["3/4 in", (1.05 - 2 * 0.154) * INCH_MM],
    ["1 in", (1.315 - 2 * 0.179) * INCH_MM],
    ["1 1/4 in", (1.66 - 2 * 0.191) * INCH_MM],
    ["1 1/2 in", (1.9 - 2 * 0.2) * INCH_MM],
    ["2 in", (2.375 - 2 * 0.218) * INCH_MM],
  ]),
  pipes("UK inch pressure pipe, class E", "BS 3505, PVC-U, 15 bar", [
    ["1/2 in", 21.3 - 2 * 1.7],
    ["3/4 in", 26.7 - 2 * 1.9],
    ["1 in", 33.5 - 2 * 2.2],
    ["1 1/4 in", 42.2 - 2 * 2.7],
    ["1 1/2 in", 48.2 - 2 * 3.1],
    ["2 in", 60.3 - 2 * 3.9],
  ]),
];

/**
 * Mass of a fish from its body length: a L^3, with a about 0.012 g/cm3 for an ordinary body and 0.020 for a deep one (Froese 2006,
 * J. Appl. Ichthyol. 22: 241-253, the middle of many species).
 */
export const massG = (lengthCm: number, deep: boolean): number => (deep ? 0.02 : 0.012) * lengthCm * lengthCm * lengthCm;

const twoFigures = (value: number): string => String(Number(value.toPrecision(2)));

function animal(label: string, name: string, lengthCm: number, deep: boolean, foodShare: number, kind: string): Pick {
  const mass = massG(lengthCm, deep);
  return {
    label: `${label}, ${lengthCm} cm`,
    note: `${twoFigures(mass)} g each, ${twoFigures(foodShare * 100)} % of it in food a day`,
    value: { name, kind, count: 10, mass: `${twoFigures(mass)} g`, food: `${twoFigures(10 * mass * foodShare)} g/day` },
  };
}

/** Generic animals; food a day falls with size from four to one hundredth of the body (common practice, no published source). */
export const ANIMALS: PickList = {
  title: "Animals by size",
  source: "mass from body length (Froese 2006); food: common practice, no published source; ten of each, to be changed",
  picks: [
    animal("Very small shoaling fish", "very small shoaling fish", 3, false, 0.04, "warm-water fish"),
    animal("Shoaling fish", "shoaling fish", 5, false, 0.03, "warm-water fish"),
    animal("Medium fish", "medium fish", 8, false, 0.025, "warm-water fish"),
    animal("Deep-bodied fish", "deep-bodied fish", 12, true, 0.02, "warm-water fish"),
    animal("Large fish", "large fish", 20, false, 0.015, "warm-water fish"),
    animal("Very large fish", "very large fish", 30, false, 0.01, "warm-water fish"),
    animal("Cold-water fish", "cold-water fish", 12, true, 0.015, "cold-water fish"),
    animal("Small marine fish", "small marine fish", 6, true, 0.03, "marine fish"),
    animal("Large marine fish", "large marine fish", 18, true, 0.02, "marine fish"),
  ],
};

/** What a leaflet prints, and what the format calls it. Where it prints nothing, both readings are run. */
export const KIT_SCALES: Readonly<Record<"ammonia" | "nitrite" | "nitrate", PickList>> = {
  ammonia: {
    title: "What the leaflet prints",
    source: "the scale's own heading",
    picks: [
      { label: "ammonium, NH4 or NH4+", note: "as the ion", value: "NH4" },
      { label: "ammonia, NH3", note: "as ammonia", value: "NH3" },
      { label: "NH3-N or NH4-N", note: "as nitrogen", value: "NH3-N" },
      { label: "NH3/NH4, or nothing", note: "not clear: both are run", value: "unknown" },
    ],
  },
  nitrite: {
    title: "What the leaflet prints",
    source: "the scale's own heading",
    picks: [
      { label: "nitrite, NO2 or NO2-", note: "as the ion", value: "NO2" },
      { label: "NO2-N, nitrite nitrogen", note: "as nitrogen", value: "NO2-N" },
      { label: "nothing", note: "not clear: both are run", value: "unknown" },
    ],
  },
  nitrate: {
    title: "What the leaflet prints",
    source: "the scale's own heading",
    picks: [
      { label: "nitrate, NO3 or NO3-", note: "as the ion", value: "NO3" },
      { label: "NO3-N, nitrate nitrogen", note: "as nitrogen", value: "NO3-N" },
      { label: "nothing", note: "not clear: both are run", value: "unknown" },
    ],
  },
};

/**
 * Points of a pump's curve from its label: the head falls with the square of the flow from the height at which it stops (modelling
 * assumption, for a centrifugal pump of which only the label is known).
 */
export const curveOfLabel = (flowLPerH: number, headM: number): Plain =>
  [0, 0.25, 0.5, 0.75, 1].map((share) => ({
    flow: `${Math.round(flowLPerH * share)} L/h`,
    head: `${Number((headM * (1 - share * share)).toFixed(2))} m`,
  }));
