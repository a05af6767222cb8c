// Selection lists: animals by size class, pipes by nominal size, fittings, kit scales by the wording of the leaflet.
// Generic, without makers.
import { fittingsK, OPEN_VALVE } from "../../../models/hydraulics/laws/fittings.ts";
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
const twoFigures = (value: number): string => String(Number(value.toPrecision(2)));

const bores = (title: string, source: string, sizes: readonly (readonly [name: string, boreMm: number])[]): PickList => ({
  title,
  source,
  picks: sizes.map(([name, bore]) => ({ label: name, note: `bore ${oneDecimal(bore)} mm`, value: `${oneDecimal(bore)} mm` })),
});

/**
 * Bore at the middle of the tolerances: the standards fix the outer diameter and the minimum wall; makers stay slightly
 * above it.
 */
const bore = (outer: number, wallMin: number, wallMax: number): number => outer - (wallMin + wallMax);

const INCH_MM = 25.4;

/** ASTM D1785, tables 1 and 2: wall tolerance of +0.020 in or +12 %, whichever is greater. */
const schedule = (outerIn: number, wallIn: number): number =>
  bore(outerIn, wallIn, wallIn + Math.max(0.02, 0.12 * wallIn)) * INCH_MM;

/** ISO 11922-1, grade W: wall tolerance of a tenth plus 0.2 mm, rounded up to a tenth of a millimetre (from memory). */
const metric = (outer: number, wall: number): number => bore(outer, wall, wall + Math.ceil(wall + 2 - 1e-9) / 10);

/** True bores of pipes by nominal size, for the common standards. The nominal size of a hose is its bore. */
export const PIPES: readonly PickList[] = [
  bores("Metric pressure pipe, 16 bar", "EN ISO 1452-2, PVC-U, PN 16: outer diameter less two walls (from memory)", [
    ["20 mm", metric(20, 1.5)],
    ["25 mm", metric(25, 1.9)],
    ["32 mm", metric(32, 2.4)],
    ["40 mm", metric(40, 3.0)],
    ["50 mm", metric(50, 3.7)],
    ["63 mm", metric(63, 4.7)],
  ]),
  bores("Metric waste pipe", "EN 1329-1, PVC-U, walls of 3.0 to 3.5 mm (from memory)", [
    ["32 mm", bore(32, 3, 3.5)],
    ["40 mm", bore(40, 3, 3.5)],
    ["50 mm", bore(50, 3, 3.5)],
  ]),
  bores("UK waste pipe, solvent weld", "BS 5255:1989, foreword: smallest bore allowed, which is the inch size", [
    ["32 mm (1 1/4 in)", 1.25 * INCH_MM],
    ["40 mm (1 1/2 in)", 1.5 * INCH_MM],
    ["50 mm (2 in)", 2 * INCH_MM],
  ]),
  bores("US Schedule 40", "ASTM D1785, tables 1 and 2", [
    ["1/2 in", schedule(0.84, 0.109)],
    ["3/4 in", schedule(1.05, 0.113)],
    ["1 in", schedule(1.315, 0.133)],
    ["1 1/4 in", schedule(1.66, 0.14)],
    ["1 1/2 in", schedule(1.9, 0.145)],
    ["2 in", schedule(2.375, 0.154)],
  ]),
  bores("US Schedule 80", "ASTM D1785, tables 1 and 2", [
    ["1/2 in", schedule(0.84, 0.147)],
    ["3/4 in", schedule(1.05, 0.154)],
    ["1 in", schedule(1.315, 0.179)],
    ["1 1/4 in", schedule(1.66, 0.191)],
    ["1 1/2 in", schedule(1.9, 0.2)],
    ["2 in", schedule(2.375, 0.218)],
  ]),
  bores("UK inch pressure pipe, class E", "BS 3505, PVC-U, 15 bar", [
    ["1/2 in", bore(21.35, 1.7, 2.1)],
    ["3/4 in", bore(26.75, 1.9, 2.5)],
    ["1 in", bore(33.55, 2.2, 2.7)],
    ["1 1/4 in", bore(42.25, 2.7, 3.2)],
    ["1 1/2 in", bore(48.25, 3.1, 3.7)],
    ["2 in", bore(60.35, 3.9, 4.5)],
  ]),
  bores("Hose", "sold by its bore (common practice, no published source)", [
    ["12 mm (1/2 in)", 12.5],
    ["16 mm (5/8 in)", 16],
    ["19 mm (3/4 in)", 19],
    ["25 mm (1 in)", 25],
    ["32 mm (1 1/4 in)", 32],
  ]),
];

/** Bore for the loss coefficients of the list [m]. */
const BORE_IN_LABEL_M = 0.025;

const run = (label: string, pieces: Readonly<Record<string, number>>): Pick => {
  const { bends = 0, "half bends": halfBends = 0, "return bends": returnBends = 0, tees = 0, unions = 0 } = pieces;
  const k = fittingsK({ bends90: bends, bends45: halfBends, bends180: returnBends, tees, unions, extraK: 0 }, BORE_IN_LABEL_M);
  return { label, note: `loses ${twoFigures(k)} velocity heads at a bore of ${BORE_IN_LABEL_M * 1000} mm`, value: pieces };
};

/** Common pipe runs, as counts of their fittings. */
export const RUNS: PickList = {
  title: "Usual runs",
  source: "loss of each fitting: Darby 2001, 3-K method; unions: common practice, no published source",
  picks: [
    run("Straight, one union", { bends: 0, unions: 1 }),
    run("Two quarter bends", { bends: 2 }),
    run("Two half bends, one union", { bends: 0, "half bends": 2, unions: 1 }),
    run("Over the rim: three quarter bends, one union", { bends: 3, unions: 1 }),
    run("Over the rim in one piece: one quarter bend, one return bend", { bends: 1, "return bends": 1, unions: 1 }),
    run("To two outlets: two quarter bends, a tee, one union", { bends: 2, tees: 1, unions: 1 }),
  ],
};

/** Other components of a run, by loss coefficient. The values include the fully turbulent friction factor at 1 in. */
export const EXTRA_LOSSES: PickList = {
  title: "Valves and ends",
  source: "Crane TP-410, page A-29, at 1 in (open globe valve from memory); strainer: common practice, no published source",
  picks: [
    { label: "ball or gate valve, open", note: String(OPEN_VALVE), value: OPEN_VALVE },
    { label: "globe valve, open", note: "7.8", value: 7.8 },
    { label: "strainer over the end, clean", note: "2", value: 2 },
  ],
};

/**
 * Mass of a fish from its body length: a L^3, with a about 0.012 g/cm3 for an ordinary body and 0.020 for a deep one (Froese 2006,
 * J. Appl. Ichthyol. 22: 241-253, the middle of many species).
 */
export const massG = (lengthCm: number, deep: boolean): number => (deep ? 0.02 : 0.012) * lengthCm * lengthCm * lengthCm;

function animal(label: string, name: string, lengthCm: number, deep: boolean, foodShare: number, kind: string): Pick {
  const mass = massG(lengthCm, deep);
  return {
    label: `${label}, ${lengthCm} cm`,
    note: `${twoFigures(mass)} g each, ${twoFigures(foodShare * 100)} % of it in food a day`,
    value: { name, kind, count: 10, mass: `${twoFigures(mass)} g`, food: `${twoFigures(10 * mass * foodShare)} g/day` },
  };
}

/**
 * Generic animals; food a day falls with size from four to one hundredth of the body (common practice, no published
 * source).
 */
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

/** Wording of the leaflet and the word of the format. If the leaflet does not state the scale, both are simulated. */
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
 * Points of a pump curve from its label: the head falls with the square of the flow from the shut-off head (modelling
 * assumption, for a centrifugal pump with a label only).
 */
export const curveOfLabel = (flowLPerH: number, headM: number): Plain =>
  [0, 0.25, 0.5, 0.75, 1].map((share) => ({
    flow: `${Math.round(flowLPerH * share)} L/h`,
    head: `${Number((headM * (1 - share * share)).toFixed(2))} m`,
  }));
