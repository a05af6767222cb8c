// Geometric consistency of the rig that a scenario builds: openings inside their vessels, drains that fall, parts that
// leave room. Each misfit names the key to change.
import { levelCurve, NoRoomError } from "../../models/hydraulics/laws/level-curve.ts";
import { chamberCurve } from "../../models/hydraulics/network/sump-parts.ts";
import type { HosePlan } from "../../models/hydraulics/outage/water-change.ts";
import { type Display, type ReturnLine, type Rig, returnLines } from "../../models/rig.ts";
import { resolveScenario } from "../build/build.ts";
import type { Scenario } from "../schema/schema.ts";
import type { Inconsistency } from "./inconsistency.ts";

/** Smallest height of an opening above the floor of its vessel [m]. */
const CLEAR_M = 0.002;
/** Smallest depth of a box over its floor that lets water fall into it [m]. */
const SHALLOWEST_BOX_M = 0.02;
/**
 * Largest nitrogen uptake of plants per square metre of water, averaged over the year [g N/(m² d)] (modelling
 * assumption). Algal turf scrubbers, the most productive cultures, grow 5 to 35 g of dry matter a day with 3 to 5 %
 * nitrogen (Adey & Loveland, from memory). Above this limit the oxygen that they release would reach several times
 * saturation.
 */
const MOST_UPTAKE_G_PER_M2_DAY = 1;

const mm = (metres: number): string => `${Math.round(metres * 1000)} mm`;

/** The message of a NoRoomError that `act` throws; null when parts leave room. */
function noRoom(act: () => void): string | null {
  try {
    act();
    return null;
  } catch (error) {
    if (error instanceof NoRoomError) return error.message;
    throw error;
  }
}

function* displayMisfits(s: Scenario, display: Display, i: number): Generator<Inconsistency> {
  const text = s.tank[i];
  const at: PropertyKey[] = s.tank.length > 1 ? ["tank", i] : ["tank"];
  const full = noRoom(() => levelCurve(0, display.lengthM * display.widthM, display.displacements));
  if (full) yield { path: at, problem: `gravel, rock and overflow boxes do not fit (${full})` };
  for (const [j, overflow] of display.overflows.entries()) {
    const written = text.overflow[j];
    const many = text.overflow.length > 1;
    const here: PropertyKey[] = [...at, "overflow", ...(many ? [j] : [])];
    const { box, crestZ } = overflow;
    if (crestZ < display.bottomZ + CLEAR_M) yield { path: [...here, "crest"], problem: "the edge lies below the tank's floor" };
    if (overflow.weirLengthM > 2 * (display.lengthM + display.widthM))
      yield { path: [...here, "weir"], problem: "the edge is longer than the tank is round" };
    if (crestZ < box.floorZ + SHALLOWEST_BOX_M)
      yield {
        path: [...here, "box"],
        problem: `the floor of the box lies less than ${mm(SHALLOWEST_BOX_M)} below the edge: make it deeper`,
      };
    if (overflow.siphon) {
      const { inletZ, outletZ } = overflow.siphon;
      if (inletZ < display.bottomZ + CLEAR_M)
        yield { path: [...here, "siphon", "inlet"], problem: "the tubes begin below the tank's floor" };
      if (outletZ < box.floorZ + CLEAR_M)
        yield {
          path: [...here, "siphon", "outlet"],
          problem: `the tubes end below the floor of the box, which lies ${mm(crestZ - box.floorZ)} below the edge`,
        };
    }
    for (const [k, drain] of overflow.drains.entries()) {
      const drainAt: PropertyKey[] = [...here, "drains", ...((written.drains?.length ?? 0) > 1 ? [k] : [])];
      const mouthZ = box.floorZ + drain.inletM;
      if (drain.inletM >= box.depthM)
        yield { path: [...drainAt, "mouth"], problem: "the mouth of the drain stands above the rim of its box" };
      else if (drain.outletZ >= mouthZ - CLEAR_M)
        yield {
          path: [...drainAt, written.drains?.[k]?.outlet === undefined ? "to" : "outlet"],
          problem: `the drain ends ${mm(drain.outletZ)} above the sump's floor, its mouth stands at ${mm(mouthZ)}: water does not run up. End it lower, lower ${drain.to}, or put the tank higher (above sump)`,
        };
    }
  }
}

function* sumpMisfits(s: Scenario, rig: Rig): Generator<Inconsistency> {
  for (const [i, chamber] of rig.sump.chambers.entries()) {
    const full = noRoom(() => chamberCurve(rig, chamber));
    const path: PropertyKey[] = s.sump.chambers ? ["sump", "chambers", i] : ["sump"];
    if (full) yield { path, problem: `equipment, media and tower do not fit in ${chamber.id} (${full})` };
  }
}

function* returnMisfits(s: Scenario, rig: Rig, surfaceZ: Readonly<Record<string, number>>): Generator<Inconsistency> {
  const texts = [s.return, ...s["other returns"]];
  for (const [k, line] of returnLines(rig).entries()) {
    const at: PropertyKey[] = k === 0 ? ["return"] : ["other returns", k - 1];
    yield* lineMisfits(at, texts[k].nozzles !== undefined, line, rig, surfaceZ);
  }
  const { topOff } = rig;
  if (topOff && topOff.offAboveM <= topOff.onBelowM)
    yield {
      path: ["top off"],
      problem: `it switches on at ${mm(topOff.onBelowM)} and off at ${mm(topOff.offAboveM)}: off above must lie higher than on below`,
    };
}

/** @param listed whether the outlets are listed in the file */
function* lineMisfits(
  line: readonly PropertyKey[],
  listed: boolean,
  { nozzles }: ReturnLine,
  rig: Rig,
  surfaceZ: Readonly<Record<string, number>>,
): Generator<Inconsistency> {
  for (const [i, nozzle] of nozzles.entries()) {
    const at: PropertyKey[] = listed ? [...line, "nozzles", i] : [...line];
    const key = listed ? "depth" : "outlet";
    const depthM = surfaceZ[nozzle.display] - rig.displays.find((d) => d.id === nozzle.display)!.bottomZ;
    if (surfaceZ[nozzle.display] - nozzle.tipZ > depthM - CLEAR_M)
      yield { path: [...at, key], problem: `the outlet ends below the floor of the tank: ${mm(depthM)} of water stand there` };
    else if (nozzle.breakHole && nozzle.breakHole.z <= nozzle.tipZ)
      yield {
        path: [...at, "hole"],
        problem: "the hole lies no higher than the outlet's lowest opening: it cannot break the siphon",
      };
  }
}

/** A draining hose that ends below the floor of what it hangs in. */
function* hoseMisfits(s: Scenario, rig: Rig, hoses: HosePlan | null): Generator<Inconsistency> {
  if (!hoses || s.hose === "none") return;
  const floorZ = rig.displays.find(({ id }) => id === hoses.vessel)?.bottomZ ?? 0;
  if (hoses.endZ < floorZ + CLEAR_M)
    yield { path: ["hose", "depth"], problem: `the hose ends below the floor of ${hoses.vessel}` };
}

/** Plants that would have to grow faster than any plants can. */
function* plantMisfits(s: Scenario, rig: Rig): Generator<Inconsistency> {
  const planM2 = rig.displays.reduce((sum, d) => sum + d.lengthM * d.widthM, rig.sump.lengthM * rig.sump.widthM);
  const most = MOST_UPTAKE_G_PER_M2_DAY * planM2;
  const problem = `no plants take up so much: at most ${Number(most.toPrecision(2))} g/day on ${Number(planM2.toPrecision(2))} m2 of water`;
  if (typeof s.plants === "object" && s.plants.uptake > most) yield { path: ["plants", "uptake"], problem };
  for (const [i, event] of s.timeline.entries())
    if (event.do === "plants" && event.uptake > most) yield { path: ["timeline", i, "uptake"], problem };
}

/** Parts of the rig that do not fit; empty when all do. The rig is built with a first estimate of the weir heads. */
export function* misfits(s: Scenario): Generator<Inconsistency> {
  const { rig, surfaceZ, hoses } = resolveScenario(s, { units: "metric", unknownScale: "ion", weirHeadsM: {} });
  for (const [i, display] of rig.displays.entries()) yield* displayMisfits(s, display, i);
  yield* sumpMisfits(s, rig);
  yield* returnMisfits(s, rig, surfaceZ);
  yield* hoseMisfits(s, rig, hoses);
  yield* plantMisfits(s, rig);
}
