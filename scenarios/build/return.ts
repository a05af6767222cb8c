// Pump, riser, outlets and branches.
import type { BranchBody, Nozzle, ReturnBranch, ReturnLine, Sump } from "../../models/rig.ts";
import type { Scenario } from "../schema/schema.ts";
import * as format from "../text/format.ts";
import type { Notes } from "../text/notes.ts";
import { ASSUMED, COMMON } from "../text/reasons.ts";
import { guessedHeadM, guessedPowerW, riserBoreM } from "./pipes.ts";
import { type BuiltTank, fittingsOf } from "./tank.ts";

type ReturnText = Omit<Scenario["return"], "name">;
type NozzleText = NonNullable<ReturnText["nozzles"]>[number];
type HoleText = NozzleText["hole"];
type BranchText = ReturnText["branches"][number];

/** Flow on the label, or the last flow of the pump curve [m³/s]. */
export const labelFlowM3PerS = (r: ReturnText): number => r.pump.flow ?? r.pump.curve![r.pump.curve!.length - 1]!.flow;

function pumpCurve(
  r: ReturnText,
  liftM: number,
  notes: Notes,
): { curve: readonly (readonly [number, number])[]; guessed: boolean } {
  if (r.pump.curve) return { curve: r.pump.curve.map((p) => [p.flow, p.head] as const), guessed: false };
  const flow = labelFlowM3PerS(r);
  const head = guessedHeadM(flow, liftM);
  const shutOffM = notes.or(
    r.pump.head,
    "return.pump.head",
    head,
    format.length(head),
    `${ASSUMED}: guessed from the label flow, and high enough to reach the tank`,
  );
  return { curve: [[0, shutOffM] as const, [flow, 0] as const], guessed: true };
}

const breakHole = (hole: HoleText, surfaceZ: number): Nozzle["breakHole"] =>
  hole === "none" ? null : { diameterM: hole.bore, z: surfaceZ - hole.depth, count: hole.count };

function nozzlesOf(r: ReturnText, notes: Notes): readonly NozzleText[] {
  if (r.nozzles) return r.nozzles;
  const depth = notes.or(r.outlet, "return.outlet", 0.05, format.length(0.05), COMMON);
  const hole = notes.or<HoleText>(
    r.hole,
    "return.hole",
    "none",
    "none",
    "a siphon-break hole is trusted only when the file names it",
  );
  return [{ depth, jet: "plain", hole, valve: 1, open: 1 }];
}

/** Length of a branch beyond its rise to the rim of its tank [m] (modelling assumption). */
const OVER_THE_RIM_M = 0.3;

function branchOf(n: NozzleText, at: string, { display }: BuiltTank, tipBoreM: number, notes: Notes): Nozzle["branch"] {
  if (n.tee === undefined) return null;
  const length = Math.max(0, display.bottomZ + display.heightM - n.tee) + OVER_THE_RIM_M;
  return {
    teeZ: n.tee,
    boreM: notes.or(n["branch bore"], `${at}.branch bore`, tipBoreM, format.length(tipBoreM), "as wide as the outlet"),
    lengthM: notes.or(
      n["branch length"],
      `${at}.branch length`,
      length,
      format.length(length),
      `${ASSUMED}: up to the rim, and 300 mm`,
    ),
    valveOpenShare: n.valve,
  };
}

/** @param name "" for the main one; its key in the file is then `return` */
export function buildReturn(name: string, r: ReturnText, tanks: readonly BuiltTank[], sump: Sump, notes: Notes): ReturnLine {
  const sumpLevelM = sump.runningLevelM;
  const flow = labelFlowM3PerS(r);
  const highest = Math.max(...tanks.map((t) => t.surfaceZ));
  const boreUsual = riserBoreM(flow);
  const boreM = notes.or(
    r.bore,
    "return.bore",
    boreUsual,
    format.length(boreUsual),
    `${COMMON}: about 1.2 m/s at two thirds of the label flow`,
  );
  const lengthUsual = highest - sumpLevelM + tanks[0]!.display.heightM + 0.5;
  const guessedW = guessedPowerW(flow);
  const texts = nozzlesOf(r, notes);
  return {
    name,
    backupS: r.backup,
    circuit: r.circuit,
    pump: {
      ...pumpCurve(r, highest - sumpLevelM, notes),
      powerW: notes.or(
        r.pump.power,
        "return.pump.power",
        guessedW,
        `${Math.round(guessedW)} W`,
        `${COMMON}: 10 W for each 1000 L/h`,
      ),
      intakeM: r.pump.intake,
      idleK: r.pump["idle loss"],
      timer: r.pump.timer ? { onS: r.pump.timer.on, offS: r.pump.timer.off } : null,
    },
    riser: {
      boreM,
      lengthM: notes.or(r.length, "return.length", lengthUsual, format.length(lengthUsual), ASSUMED),
      roughnessM: r.roughness,
      fittings: fittingsOf(r.fittings),
    },
    valveOpenShare: r.valve,
    checkValve: r["check valve"],
    checkValveWeepM3PerS: r["check valve leak"],
    nozzles: texts.map((n, i): Nozzle => {
      const tank = tanks.find((t) => t.display.id === n.tank) ?? tanks[0]!;
      const usual = texts.length === 1 ? boreM : boreM / Math.sqrt(texts.length);
      const nozzleAt = texts.length > 1 ? `return.nozzles[${i + 1}]` : "return.nozzle";
      const tipBoreM = notes.or(
        n.bore,
        `${nozzleAt}.bore`,
        usual,
        format.length(usual),
        "the outlets together are as wide as the riser",
      );
      return {
        id: `${name === "" ? "" : `${name} `}${texts.length > 1 ? `outlet ${i + 1}` : "outlet"}`,
        display: tank.display.id,
        boreM: tipBoreM,
        openShare: n.open,
        branch: branchOf(n, nozzleAt, tank, tipBoreM, notes),
        tipZ: tank.surfaceZ - n.depth,
        jet: n.jet,
        breakHole: breakHole(n.hole, tank.surfaceZ),
      };
    }),
    branches: r.branches.map((b, i) => branchLine(b, `return.branches[${i + 1}]`, sump, notes)),
  };
}

/** Height of the outlet of an open body, as a share of its own (modelling assumption); under the lid of a closed one. */
const OPEN_MOUTH_SHARE = 0.8;
const UNDER_LID_M = 0.01;

/** The chamber named in a branch; `return` is always the last one, unless another chamber has that name. */
export function chamberNamed(name: string | undefined, { chambers }: Pick<Sump, "chambers">): string {
  if (name === undefined) return chambers[0]!.id;
  return chambers.find(({ id }) => id === name)?.id ?? chambers[chambers.length - 1]!.id;
}

function branchLine(b: BranchText, key: string, sump: Sump, notes: Notes): ReturnBranch {
  return {
    id: b.name,
    boreM: b.bore,
    lengthM: b.length,
    k: b.loss,
    valveOpenShare: b.valve,
    outletZ: b.outlet,
    to: chamberNamed(b.to, sump),
    body: b.body ? branchBody(b.body, b.bore, `${key}.body`, notes) : null,
  };
}

function branchBody(body: NonNullable<BranchText["body"]>, feedBoreM: number, key: string, notes: Notes): BranchBody {
  const open = body.lid === "open";
  const mouth = open ? OPEN_MOUTH_SHARE * body.height : body.height - UNDER_LID_M;
  const bore = open ? 2 * feedBoreM : feedBoreM;
  return {
    planM2: body.volume / body.height,
    heightM: body.height,
    floorZ: body.floor,
    lid: body.lid,
    inletM: body.inlet,
    mouthM: notes.or(
      body["outlet mouth"],
      `${key}.outlet mouth`,
      mouth,
      format.length(mouth),
      `${ASSUMED}: ${open ? "at four fifths of its height" : "10 mm under the lid"}`,
    ),
    outletBoreM: notes.or(
      body["outlet bore"],
      `${key}.outlet bore`,
      bore,
      format.length(bore),
      open ? "twice as wide as the feed" : "as wide as the feed",
    ),
    outletLengthM: body["outlet length"],
    outletOpenShare: 1,
    stands: body.stands,
    leakM2: 0,
  };
}
