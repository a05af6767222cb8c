// Weeks without maintenance: a weir that algae narrow, a pad that clogs, evaporation with a top-off. Finds the first day
// on which an outage would flood.

import { pow } from "../../../sim/elementary.ts";
import { SECONDS_PER_DAY } from "../../../sim/time.ts";
import type { Rig } from "../../rig.ts";
import { densityKgPerM3 } from "../../water/density.ts";
import { solveSteadyState } from "../dynamics/steady-state.ts";
import { HydraulicSystem } from "../dynamics/system.ts";
import { runStage } from "../dynamics/transient.ts";
import { evaporationOfRigM3PerS } from "../laws/evaporation.ts";
import { levelZ, volumeBelowM3 } from "../laws/level-curve.ts";
import { buildNetwork } from "../network/from-rig.ts";
import { setPumps } from "../network/network.ts";
import { setRunning, startRunning, valveLossesFor } from "../outage/start.ts";
import { SPILL_THRESHOLD_M3, TIGHT_M } from "../outage/verdict.ts";

export interface Neglect {
  readonly days: number;
  /** Share of its opening that each weir loses per week, and share of the remaining opening that each pad loses per week. */
  readonly weirPerWeek: number;
  readonly padPerWeek: number;
  readonly topOff: "works" | "stuck off" | "stuck on";
}

/** State on one day. */
export interface NeglectedDay {
  readonly day: number;
  readonly returnLevelM: number;
  readonly displayZ: Readonly<Record<string, number>>;
  readonly reservoirM3: number;
  readonly salinityGPerKg: number;
  /** Margin below the lowest rim of the sump [m], and volume on the floor [m³], for an outage on this day. */
  readonly marginM: number;
  readonly floorM3: number;
  readonly drawsAir: boolean;
}

export interface NeglectRun {
  readonly days: readonly NeglectedDay[];
  /**
   * First days on which an outage leaves less than 25 mm, floods, and on which the pump draws air or the tank spills; null
   * if never.
   */
  readonly tightDay: number | null;
  readonly floodDay: number | null;
  readonly airDay: number | null;
  readonly reservoirEmptyDay: number | null;
}

/** Smallest remaining opening of a weir or a pad. */
const LEAST_OPEN = 0.02;
const LONGEST_CUT_S = 3600;

function grownOver(rig: Rig, { weirPerWeek, padPerWeek }: Neglect, day: number): Rig {
  const left = (perWeek: number) => Math.max(LEAST_OPEN, pow(1 - perWeek, day / 7));
  return {
    ...rig,
    displays: rig.displays.map((display) => ({
      ...display,
      overflows: display.overflows.map((overflow) => ({ ...overflow, openShare: overflow.openShare * left(weirPerWeek) })),
    })),
    sump: {
      ...rig.sump,
      chambers: rig.sump.chambers.map((chamber) => ({
        ...chamber,
        // A roller moves on to clean fleece by itself.
        sock:
          chamber.sock?.kind === "sock"
            ? { ...chamber.sock, blindedShare: 1 - (1 - chamber.sock.blindedShare) * left(padPerWeek) }
            : chamber.sock,
      })),
    },
    towers: rig.towers.map((tower) => ({
      ...tower,
      prefilter: tower.prefilter && {
        ...tower.prefilter,
        blindedShare: 1 - (1 - tower.prefilter.blindedShare) * left(padPerWeek),
      },
    })),
  };
}

/**
 * Simulates a rig day by day. Each day the displays lose the evaporation, the top-off replaces it within its capacity, the steady
 * state is solved with the weirs and pads of that day, and an outage is simulated. Drains keep their throttling of the first day.
 * @returns null if the rig has no steady state at the start
 */
export function simulateNeglect(rig: Rig, neglect: Neglect): NeglectRun | null {
  const losses = valveLossesFor(rig);
  const first = buildNetwork(rig, losses);
  const start = startRunning(rig, first);
  const line = first.returnLine;
  if (!start.settled.settled || !line) return null;
  let y: Float64Array = Float64Array.from(start.settled.volumesM3);
  const evaporation = evaporationOfRigM3PerS(rig);
  const index = (kind: string) => first.vessels.flatMap((vessel, n) => (vessel.kind === kind ? [n] : []));
  const displays = index("display");
  const [air] = index("air");
  const reservoir = first.topOff?.reservoir ?? -1;
  const plan = displays.reduce((sum, n) => sum + first.vessels[n].areaM2, 0);
  const density = densityKgPerM3(rig.waterTemperatureC, rig.salinityGPerKg);
  const waterOf = (state: Float64Array) =>
    state.reduce((sum, volume, n) => (n === air || n === first.floor || n === reservoir ? sum : sum + volume), 0);
  let saltG = rig.salinityGPerKg * density * waterOf(y);
  const days: NeglectedDay[] = [];
  let reservoirEmptyDay: number | null = null;
  for (let day = 0; day <= neglect.days; day++) {
    const grown = grownOver(rig, neglect, day);
    const system = new HydraulicSystem(buildNetwork(grown, losses));
    setRunning(system.modes);
    if (day > 0) {
      for (const n of displays) y[n] -= (evaporation * SECONDS_PER_DAY * first.vessels[n].areaM2) / plan;
      y[air] += evaporation * SECONDS_PER_DAY;
    }
    y = solveSteadyState(system, y).volumesM3;
    if (reservoir >= 0 && rig.topOff && neglect.topOff !== "stuck off" && y[reservoir] > 0) {
      const { curve } = first.vessels[line.source];
      // Added water also raises the weirs' heads, so several iterations bring the chamber to its mark.
      for (let turn = 0; turn < 8; turn++) {
        const missing = volumeBelowM3(curve, first.topOff!.offAboveZ) - y[line.source];
        const wanted = neglect.topOff === "stuck on" && turn === 0 ? rig.topOff.pumpM3PerS * SECONDS_PER_DAY : missing;
        const given = Math.min(Math.max(0, wanted), y[reservoir]);
        if (given < 1e-6) break;
        y[line.source] += given;
        y[reservoir] -= given;
        saltG += given * density * rig.topOff.salinityGPerKg;
        y = solveSteadyState(system, y).volumesM3;
      }
      if (y[reservoir] < 1e-6 && reservoirEmptyDay === null) reservoirEmptyDay = day;
    }
    const level = levelZ(first.vessels[line.source].curve, y[line.source]);
    const running = Float64Array.from(y);
    days.push({
      day,
      returnLevelM: level,
      displayZ: Object.fromEntries(displays.map((n) => [first.vessels[n].id, levelZ(first.vessels[n].curve, y[n])])),
      reservoirM3: reservoir >= 0 ? y[reservoir] : 0,
      salinityGPerKg: saltG / (density * waterOf(y)),
      drawsAir: level < line.intakeZ,
      ...cutFrom(system, running),
    });
    if (level < line.intakeZ - line.airBandM) break;
  }
  const firstDay = (holds: (day: NeglectedDay) => boolean) => days.find(holds)?.day ?? null;
  return {
    days,
    tightDay: firstDay(({ marginM }) => marginM < TIGHT_M),
    floodDay: firstDay(({ floorM3 }) => floorM3 > SPILL_THRESHOLD_M3),
    airDay: firstDay(({ drawsAir }) => drawsAir),
    reservoirEmptyDay,
  };
}

/** Simulates an outage from the given volumes, which it overwrites. */
function cutFrom(system: HydraulicSystem, y: Float64Array): { marginM: number; floorM3: number } {
  setPumps(system.modes, false);
  system.modes.powered = false;
  const { vessels, floor } = system.network;
  const before = y[floor];
  const cut = runStage(system, y, {
    kind: "power cut",
    atMostS: LONGEST_CUT_S,
    untilStill: true,
    keepTrace: false,
    follow: false,
  });
  const margins = vessels.flatMap(({ kind, rimZ, id }) =>
    kind === "chamber" && rimZ !== null ? [rimZ - cut.highestZ[id].z] : [],
  );
  return { marginM: Math.max(0, Math.min(...margins)), floorM3: y[floor] - before };
}
