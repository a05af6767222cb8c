// A display tank with its overflows and drains. Depths below the running water surface refer to the surface that
// follows from the weir heads: a first estimate, or the result of the hydraulic model.
import { weirHeadM } from "../../models/hydraulics/laws/weir.ts";
import type { Display, Drain, Fittings, Overflow } from "../../models/rig.ts";
import { square } from "../../sim/elementary.ts";
import type { Scenario } from "../schema/schema.ts";
import * as format from "../text/format.ts";
import type { Notes } from "../text/notes.ts";
import { ASSUMED, COMMON } from "../text/reasons.ts";
import { drainsFor, openDrainCapacityM3PerS, tubeBoreM } from "./pipes.ts";
import { type Box, insideOf, tankDisplacements } from "./vessels.ts";

type TankText = Scenario["tank"][number];
type OverflowText = TankText["overflow"][number];
type DrainText = NonNullable<OverflowText["drains"]>[number];

/** Head over each weir while running [m], by overflow id; missing heads are estimated. */
export type WeirHeads = Readonly<Record<string, number>>;

export interface Receivers {
  /** Destination of drains when the scenario does not say. */
  readonly usual: string;
  /** Height above the sump floor at which a drain to each tower or chamber ends [m], by id. */
  readonly inletZ: Readonly<Record<string, number>>;
}

export interface BuiltTank {
  readonly display: Display;
  /** Elevation of the running water surface. */
  readonly surfaceZ: number;
}

export const fittingsOf = (f: Scenario["return"]["fittings"]): Fittings => ({
  bends90: f.bends,
  bends45: f["half bends"],
  bends180: f["return bends"],
  tees: f.tees,
  unions: f.unions,
  extraK: f["extra loss"],
});

const PLAIN_RUN: Scenario["return"]["fittings"] = {
  bends: 2,
  "half bends": 0,
  "return bends": 0,
  tees: 0,
  unions: 0,
  "extra loss": 0,
};
const SMOOTH_M = 1.5e-6;
const WATER_LINE_M = 0.04;
/** Depth of an overflow box below its crest (common practice, no published source). */
const BOX_DEPTH_M = 0.2;

/**
 * @param expectedFlowM3PerS estimated flow through this tank; used only for the first estimate of the heads and for
 * pipe sizes
 */
export function buildTank(
  tank: TankText,
  key: string,
  aboveSumpM: number,
  expectedFlowM3PerS: number,
  heads: WeirHeads,
  receivers: Receivers,
  notes: Notes,
): BuiltTank {
  const box = insideOf(tank, key, notes);
  const rimZ = aboveSumpM + box.heightM;
  const many = tank.overflow.length > 1;
  const share = expectedFlowM3PerS / tank.overflow.length;
  const planned = tank.overflow.map((overflow, i) => {
    const at = many ? `${key}.overflow[${i + 1}]` : `${key}.overflow`;
    const id = `${tank.name} overflow${many ? ` ${i + 1}` : ""}`;
    const usualWeir = Math.min(Math.max(box.lengthM / 3, 0.15), box.lengthM);
    const weirM = notes.or(overflow.weir, `${at}.weir`, usualWeir, format.length(usualWeir), COMMON);
    const mouths = (overflow.drains ?? []).filter(({ kind }) => kind !== "dry emergency").map(({ bore }) => bore ?? 0.04);
    const aroundM = Math.PI * (mouths.length > 0 ? mouths.reduce((a, b) => a + b, 0) : 0.04);
    const headM =
      heads[id] ??
      (overflow.kind === "standpipe"
        ? weirHeadM(share, aroundM, 0)
        : weirHeadM(share, weirM * overflow.open, overflow.open < 1 ? 2 : 0));
    return { overflow, at, id, weirM, headM };
  });
  const crested = planned.filter((p) => p.overflow.crest !== undefined);
  const byCrest = crested.length > 0 ? Math.max(...crested.map((p) => rimZ - p.overflow.crest! + p.headM)) : rimZ - WATER_LINE_M;
  const waterLineM = notes.or(
    tank["water line"],
    `${key}.water line`,
    rimZ - byCrest,
    format.length(rimZ - byCrest),
    crested.length > 0 ? "crest and the head over it" : COMMON,
  );
  const surfaceZ = crested.length > 0 ? byCrest : rimZ - waterLineM;
  const overflows = planned.map((p) =>
    buildOverflow(p, { tank, box, rimZ, bottomZ: aboveSumpM, surfaceZ, flowM3PerS: share }, receivers, notes),
  );
  const insideBoxes = overflows.flatMap((o, i) =>
    boxPlace(tank.overflow[i]!) === "inside"
      ? [{ fromM: Math.max(0, o.box.floorZ - aboveSumpM), toM: box.heightM, areaM2: o.box.planAreaM2 }]
      : [],
  );
  const wholeM3 = box.lengthM * box.widthM * box.heightM;
  const rockM3 = notes.or(tank.rock, `${key}.rock`, 0.03 * wholeM3, format.volume(0.03 * wholeM3), COMMON);
  return {
    surfaceZ,
    display: {
      id: tank.name,
      name: tank.name,
      ...box,
      wallMaterial: tank.material,
      bottomZ: aboveSumpM,
      displacements: tankDisplacements(tank, box, rockM3, insideBoxes),
      lid: tank.lid,
      overflows,
    },
  };
}

const boxPlace = (overflow: OverflowText): "inside" | "outside" =>
  overflow["box place"] ?? (overflow.kind === "drilled" ? "inside" : "outside");

interface Planned {
  readonly overflow: OverflowText;
  readonly at: string;
  readonly id: string;
  readonly weirM: number;
  readonly headM: number;
}

interface TankContext {
  readonly tank: TankText;
  readonly box: Box;
  readonly rimZ: number;
  readonly bottomZ: number;
  readonly surfaceZ: number;
  readonly flowM3PerS: number;
}

function buildOverflow(
  { overflow, at, id, weirM, headM }: Planned,
  around: TankContext,
  receivers: Receivers,
  notes: Notes,
): Overflow {
  const { rimZ, surfaceZ } = around;
  const below = rimZ - (surfaceZ - headM);
  const crestZ =
    rimZ - notes.or(overflow.crest, `${at}.crest`, below, format.length(below), "water line less the head over the edge");
  if (overflow.kind === "standpipe") return buildStandpipe({ overflow, at, id, weirM, headM }, crestZ, around, receivers, notes);
  const boxRimZ = rimZ + overflow["box rim"];
  const usualDepth =
    boxRimZ - Math.max(crestZ - BOX_DEPTH_M, overflow.kind === "drilled" ? around.bottomZ : crestZ - BOX_DEPTH_M);
  const [alongM, outM, deepM] = notes.or(
    overflow.box,
    `${at}.box`,
    [weirM, 0.1, usualDepth] as const,
    `${format.length(weirM)[notes.units]} x ${format.length(0.1)[notes.units]} x ${format.length(usualDepth)[notes.units]}`,
    `${ASSUMED}: as long as the weir, 100 mm out, 200 mm below the crest`,
  );
  const floorZ = boxRimZ - deepM;
  const crestM = crestZ - floorZ;
  const drains = overflow.drains ?? usualDrains(at, around.flowM3PerS, notes);
  const siphon = overflow.siphon;
  const throttled = drains.some((d) => d.kind === "throttled siphon");
  const boxLevelM =
    overflow["box level"] ??
    (throttled
      ? notes.or(undefined, `${at}.box level`, crestM - 0.05, format.length(crestM - 0.05), `${ASSUMED}: 50 mm below the crest`)
      : null);
  return {
    id,
    kind: overflow.kind,
    crestZ,
    weirLengthM: weirM,
    openShare: overflow.open,
    box: { planAreaM2: alongM * outM, depthM: deepM, floorZ, inside: boxPlace(overflow) === "inside", runningLevelM: boxLevelM },
    siphon:
      overflow.kind === "hang-on"
        ? {
            count: siphon.tubes,
            boreM: notes.or(
              siphon.bore,
              `${at}.siphon.bore`,
              tubeBoreM(around.flowM3PerS, siphon.tubes),
              format.length(tubeBoreM(around.flowM3PerS, siphon.tubes)),
              `${COMMON}: wide enough for its flow at 25 mm of head`,
            ),
            lengthM: siphon.length,
            crownZ: rimZ + siphon.crown,
            inletZ: crestZ - siphon.inlet,
            outletZ: crestZ - siphon.outlet,
            startsPrimed: siphon["stays full"],
          }
        : null,
    drains: drains.map((drain, i) =>
      buildDrain(
        drain,
        {
          at: drains.length > 1 ? `${at}.drains[${i + 1}]` : `${at}.drains`,
          id: `${id} drain${drains.length > 1 ? ` ${i + 1}` : ""}`,
          floorZ,
          crestM,
          flowM3PerS: around.flowM3PerS / drains.length,
        },
        receivers,
        notes,
      ),
    ),
    leak: leakOf(overflow, floorZ),
  };
}

const leakOf = ({ leak }: OverflowText, floorZ: number): Overflow["leak"] =>
  leak ? { areaM2: (Math.PI / 4) * square(leak.bore), z: floorZ + leak.height, to: leak.to } : null;

/** Nominal plan area of the missing box of a standpipe [m²]. */
const NO_BOX_M2 = 0.002;
/** Height of the mouth of an emergency standpipe above that of the working one [m] (modelling assumption). */
const EMERGENCY_OVER_M = 0.02;

/** Standpipes in the tank: their mouths are the overflow edge, and the tank takes the place of the box. */
function buildStandpipe(
  { overflow, at, id, weirM }: Planned,
  crestZ: number,
  around: TankContext,
  receivers: Receivers,
  notes: Notes,
): Overflow {
  const { rimZ, bottomZ, flowM3PerS } = around;
  const drains = overflow.drains ?? usualDrains(at, flowM3PerS, notes);
  const mouthM = crestZ - bottomZ;
  return {
    id,
    kind: "standpipe",
    crestZ,
    weirLengthM: weirM,
    openShare: 1,
    box: { planAreaM2: NO_BOX_M2, depthM: rimZ - bottomZ, floorZ: bottomZ, inside: false, runningLevelM: null },
    siphon: null,
    leak: null,
    drains: drains.map((drain, i) =>
      buildDrain(
        { ...drain, mouth: drain.mouth ?? (drain.kind === "dry emergency" ? mouthM + EMERGENCY_OVER_M : mouthM) },
        {
          at: drains.length > 1 ? `${at}.drains[${i + 1}]` : `${at}.drains`,
          id: `${id} drain${drains.length > 1 ? ` ${i + 1}` : ""}`,
          floorZ: bottomZ,
          crestM: mouthM,
          flowM3PerS: flowM3PerS / drains.length,
        },
        receivers,
        notes,
      ),
    ),
  };
}

function usualDrains(at: string, flowM3PerS: number, notes: Notes): readonly DrainText[] {
  const { count, boreM } = drainsFor(flowM3PerS / 0.6);
  const drain: DrainText = { kind: "open", bore: boreM, fittings: PLAIN_RUN, roughness: SMOOTH_M, open: 1 };
  const drains = Array.from({ length: count }, () => drain);
  return notes.or(
    undefined,
    `${at}.drains`,
    drains,
    `${count} open, ${format.length(boreM)[notes.units]}`,
    `${COMMON}: open capacity above the label flow`,
  );
}

interface DrainPlace {
  readonly at: string;
  readonly id: string;
  readonly floorZ: number;
  /** Height of the crest above the box floor. */
  readonly crestM: number;
  readonly flowM3PerS: number;
}

function buildDrain(
  drain: DrainText,
  { at, id, floorZ, crestM, flowM3PerS }: DrainPlace,
  receivers: Receivers,
  notes: Notes,
): Drain {
  const to = notes.or(drain.to, `${at}.to`, receivers.usual, receivers.usual, COMMON);
  const endZ = receivers.inletZ[to]!;
  const outletZ = notes.or(drain.outlet, `${at}.outlet`, endZ, format.length(endZ), ASSUMED);
  const usualMouth = Math.max(
    0.01,
    drain.kind === "dry emergency" ? crestM - 0.015 : drain.kind === "open" ? crestM - 0.06 : Math.min(0.04, crestM / 3),
  );
  const inletM = notes.or(drain.mouth, `${at}.mouth`, usualMouth, format.length(usualMouth), ASSUMED);
  const usualBore = drainsFor(flowM3PerS / 0.6).boreM;
  const boreM = notes.or(
    drain.bore,
    `${at}.bore`,
    usualBore,
    format.length(usualBore),
    `${COMMON}: open capacity ${format.flow(openDrainCapacityM3PerS(usualBore))[notes.units]}`,
  );
  const usualLength = Math.max(0.1, floorZ + inletM - outletZ) + 0.3;
  const lengthM = notes.or(
    drain.length,
    `${at}.length`,
    usualLength,
    format.length(usualLength),
    `${ASSUMED}: the drop and 300 mm`,
  );
  return {
    id,
    kind: drain.kind,
    boreM,
    inletM,
    lengthM,
    roughnessM: drain.roughness,
    fittings: fittingsOf(drain.fittings),
    openShare: drain.open,
    to,
    outletZ,
  };
}
