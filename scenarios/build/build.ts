// Resolves a checked scenario into the input of the models: the rig in metres, the management in grams and days.

import type { HosePlan } from "../../models/hydraulics/outage/water-change.ts";
import type { Calibration, Measured } from "../../models/hydraulics/planning/calibrate.ts";
import type { Neglect } from "../../models/hydraulics/planning/neglect.ts";
import type { Plan } from "../../models/nitrogen/events/all.ts";
import type { Displacement, Rig } from "../../models/rig.ts";
import { SECONDS_PER_DAY } from "../../sim/time.ts";
import type { KitReading } from "../result/result.ts";
import type { Scenario } from "../schema/schema.ts";
import * as format from "../text/format.ts";
import type { AmmoniaBasis, NitrateBasis, NitriteBasis } from "../text/nitrogen-basis.ts";
import { type DefaultUsed, Notes } from "../text/notes.ts";
import { ASSUMED, COMMON } from "../text/reasons.ts";
import { outageOf } from "../timeline/power-cut.ts";
import { climateOf } from "./climate.ts";
import { buildClosedFilters } from "./closed-filters.ts";
import { buildSump, buildTowers, chamberLevelsM, receiversOf } from "./filter.ts";
import { hosesOf } from "./hoses.ts";
import { airStonePerDay, animalGroups, displaySurfaceM2, inoculumOf, type PlannedFood, plannedFood, plantsOf } from "./life.ts";
import { REAL_FLOW_SHARE } from "./pipes.ts";
import { buildReturn, labelFlowM3PerS } from "./return.ts";
import { buildTank, type WeirHeads } from "./tank.ts";
import { cycleOf, planEvents } from "./timeline.ts";
import { scalesOf, startWater, tapWater, type UnknownScale } from "./water.ts";

export interface Kit {
  readonly ammonia: AmmoniaBasis;
  readonly nitrite: NitriteBasis;
  readonly nitrate: NitrateBasis;
  /** Scale steps in mg/L as printed; the last one is the upper limit. */
  readonly steps: {
    readonly ammonia: readonly number[];
    readonly nitrite: readonly number[];
    readonly nitrate: readonly number[];
  };
}

/** A scenario with all defaults resolved, ready to run. */
export interface ResolvedScenario {
  readonly rig: Rig;
  readonly management: Plan;
  readonly units: format.UnitSystem;
  readonly kit: Kit;
  /** The challenge test of the filter: clear this dose [g N/m³] within so many days, so many times in succession. */
  readonly ask: { readonly tanGPerM3: number; readonly words: string; readonly withinDays: number; readonly times: number };
  /** The food that the filter must be ready for; null when the scenario does not say. */
  readonly food: PlannedFood | null;
  /** Whether ammonia is dosed instead of stocking animals. */
  readonly fishless: boolean;
  readonly readings: readonly KitReading[];
  /** Ranges of the uncertain inputs, where the scenario gives them. */
  readonly uncertain: Scenario["uncertain"];
  /** The default outage, which every run simulates. */
  readonly outage: ReturnType<typeof outageOf>;
  /** How often that cut comes in a row, and how long the power is back in between [s]. */
  readonly cutsInARow: { readonly times: number; readonly pauseS: number };
  /** What the labels of the tanks say they hold, by tank [m3]. */
  readonly labelM3: Readonly<Record<string, number>>;
  readonly measured: Measured | null;
  /** How far the model was off, and what was set; empty until the rig is balanced. */
  readonly calibrations: readonly Calibration[];
  /** Weeks in which nobody looks; null when nobody asked. */
  readonly neglect: Neglect | null;
  readonly hoses: HosePlan | null;
  readonly battery: { readonly capacityWh: number; readonly airW: number } | null;
  /** Elevation of the running water surface by tank, from the weir heads. */
  readonly surfaceZ: Readonly<Record<string, number>>;
  /** Water in the system while running, without films and pipes [m³]. */
  readonly waterM3: number;
  readonly defaults: readonly DefaultUsed[];
  readonly warnings: readonly string[];
}

export interface BuildOptions {
  /** Unit system to print first when the scenario does not set it: see `mostlyWritten`. */
  readonly units: format.UnitSystem;
  /** The interpretation of an unknown test-kit scale. */
  readonly unknownScale: UnknownScale;
  /** Heads over the weirs while running [m], by overflow id, from the hydraulic model; {} = a first estimate. */
  readonly weirHeadsM: WeirHeads;
}

/** The unit system that most units in a scenario's text belong to. */
export function mostlyWritten(text: string): format.UnitSystem {
  const count = (pattern: RegExp): number => text.match(pattern)?.length ?? 0;
  const us = count(/\d\s*(?:in|inch|inches|ft|US\s|°?F\b|lb|oz|gp[hm])\b|\d["']/g);
  return us > count(/\d\s*(?:mm|cm|m|L|L\/h|°?C|kg|m2|m3)\b/g) ? "US" : "metric";
}

const displacedM3 = (displacements: readonly Displacement[], upToM: number): number =>
  displacements.reduce((sum, d) => sum + Math.max(0, Math.min(d.toM, upToM) - d.fromM) * d.areaM2, 0);

function waterVolumeM3(
  rig: Pick<Rig, "displays" | "sump" | "closedFilters">,
  surfaceZ: Readonly<Record<string, number>>,
): number {
  const { displays, sump, closedFilters } = rig;
  const levels = chamberLevelsM(sump);
  const above = displays.reduce((sum, d) => {
    const depth = surfaceZ[d.id]! - d.bottomZ;
    return sum + d.lengthM * d.widthM * depth - displacedM3(d.displacements, depth);
  }, 0);
  const beside = sump.joined.reduce(
    (sum, { to, bottomZ, lengthM, widthM, pipe }) => sum + lengthM * widthM * (Math.max(levels[to]!, pipe.z) - bottomZ),
    0,
  );
  return sump.chambers.reduce(
    (sum, c) => sum + c.lengthM * sump.widthM * levels[c.id]! - displacedM3(c.displacements, levels[c.id]!),
    beside + above + closedFilters.reduce((sum, { waterM3 }) => sum + waterM3, 0),
  );
}

/** Default height of a tank's floor above the sump's floor. */
const usualAboveSumpM = (s: Scenario): number =>
  s.cabinet ? s.cabinet.inside[2] + 0.02 : Math.max(0.75, (s.sump.inside ?? s.sump.outside)![2] + 0.3);

/** Default mass without water [kg]: walls from their size, and 40 kg of stand per square metre (modelling assumption). */
function dryMassKg(rig: Pick<Rig, "displays" | "sump">, footprintM2: number): number {
  const density = { glass: 2500, acrylic: 1190 } as const;
  const walls = [...rig.displays, rig.sump].map(
    (v) => density[v.wallMaterial] * v.glassM * (2 * (v.lengthM + v.widthM) * v.heightM + v.lengthM * v.widthM),
  );
  return walls.reduce((a, b) => a + b, 40 * footprintM2);
}

function buildRig(s: Scenario, heads: WeirHeads, notes: Notes): { rig: Rig; surfaceZ: Record<string, number> } {
  const label = [s.return, ...s["other returns"]].reduce((sum, line) => sum + labelFlowM3PerS(line), 0);
  const flow = REAL_FLOW_SHARE * label;
  const sump = buildSump(s.sump, notes);
  const towers = buildTowers(s, sump, label, notes);
  const receivers = receiversOf(towers, sump);
  const usualAbove = usualAboveSumpM(s);
  const tanks = s.tank.map((tank, i) => {
    const key = s.tank.length > 1 ? `tank[${i + 1}]` : "tank";
    const above = notes.or(
      tank["above sump"],
      `${key}.above sump`,
      usualAbove,
      format.length(usualAbove),
      s.cabinet ? "the cabinet's height" : COMMON,
    );
    return buildTank(tank, key, above, flow / s.tank.length, heads, receivers, notes);
  });
  const displays = tanks.map((t) => t.display);
  const top = s["top off"];
  const footprintM2 = s.stand ? s.stand.footprint[0] * s.stand.footprint[1] : 0;
  const dry = dryMassKg({ displays, sump }, footprintM2);
  const surfaceZ = Object.fromEntries(tanks.map((t) => [t.display.id, t.surfaceZ]));
  return {
    surfaceZ,
    rig: {
      displays,
      towers,
      sump,
      return: buildReturn("", s.return, tanks, sump, notes),
      moreReturns: s["other returns"].map((other) => buildReturn(other.name, other, tanks, sump, notes)),
      closedFilters: buildClosedFilters(s["closed filter"], displays, sump, surfaceZ, notes),
      topOff:
        top === "none"
          ? null
          : {
              reservoirM3: top.reservoir,
              pumpM3PerS: top.flow,
              onBelowM: notes.or(
                top["on below"],
                "top off.on below",
                sump.runningLevelM - 0.005,
                format.length(sump.runningLevelM - 0.005),
                ASSUMED,
              ),
              offAboveM: notes.or(
                top["off above"],
                "top off.off above",
                sump.runningLevelM,
                format.length(sump.runningLevelM),
                ASSUMED,
              ),
              salinityGPerKg: top.salinity,
            },
      cabinet: s.cabinet
        ? {
            lengthM: s.cabinet.inside[0],
            widthM: s.cabinet.inside[1],
            heightM: s.cabinet.inside[2],
            doorWidthM: s.cabinet.door[0],
            doorHeightM: s.cabinet.door[1],
          }
        : null,
      room: {
        temperatureC: 0.5 * (s.room.temperature + (s.room.night ?? s.room.temperature)),
        relativeHumidity: s.room.humidity,
        altitudeM: s.room.altitude,
        co2Share: s.room.co2,
      },
      waterTemperatureC: s.water.temperature,
      salinityGPerKg: s.water.salinity,
      evaporationM3PerS: null,
      stand: s.stand
        ? {
            footprintM2,
            dryMassKg: notes.or(
              s.stand["dry mass"] === undefined ? undefined : s.stand["dry mass"] / 1000,
              "stand.dry mass",
              dry,
              format.mass(dry * 1000),
              ASSUMED,
            ),
          }
        : null,
    },
  };
}

/**
 * Resolves a scenario. A pure function: call it again with the heads from the hydraulic model, so that depths measured
 * from the running water surface refer to the computed surface.
 */
export function resolveScenario(s: Scenario, { units: mostUsed, unknownScale, weirHeadsM }: BuildOptions): ResolvedScenario {
  const units = s.units ?? mostUsed;
  const notes = new Notes(units);
  notes.or(s.units, "units", units, units, "as most of the file is written");
  const scales = scalesOf(s.kit, unknownScale);
  const { rig, surfaceZ } = buildRig(s, weirHeadsM, notes);
  const waterM3 = waterVolumeM3(rig, surfaceZ);
  const tap = tapWater(s.tap, "tap", s.water, scales, notes);
  const fishless = cycleOf(s) !== null;
  if (rig.displays.length > 1 && s.stock.length > 0)
    notes.or(undefined, "stock", null, "animals in every tank, by its share of the water", ASSUMED);
  const displayM3 = rig.displays.reduce((sum, d) => sum + d.lengthM * d.widthM * d.heightM, 0);
  const foam = s["foam fractionator"];
  const management: Plan = {
    days: s.days,
    start: startWater(s.water, tap, scales, notes),
    temperatureC: s.water.temperature,
    tap,
    groups: animalGroups(s, !fishless, notes),
    plants: plantsOf(s, rig.displays, notes),
    seed: inoculumOf(s, notes),
    surfaces: { displayM2: displaySurfaceM2(s, rig.displays, notes) },
    airStonePerDay: airStonePerDay(s, rig.displays[0]!, notes),
    foamFractionator: foam === "none" ? null : { flowM3PerDay: foam.flow * SECONDS_PER_DAY, removalShare: foam.takes },
    heaterW: notes.or(
      s.heater,
      "heater",
      displayM3 * 1000,
      `${Math.round(displayM3 * 1000)} W`,
      `${COMMON}: 1 W for each litre of the tank`,
    ),
    climate: climateOf(s),
    events: planEvents(s, {
      nitrogen: scales.nitrogen,
      tap: (written, key) => tapWater(written ?? s.tap, written ? key : "tap", s.water, scales, notes),
      waterM3,
      temperatureC: s.water.temperature,
      display: rig.displays[0]!,
      hasClosedFilter: s["closed filter"] !== "none",
      notes,
    }),
  };
  return {
    rig,
    management,
    units,
    kit: {
      ammonia: s.kit.ammonia,
      nitrite: s.kit.nitrite,
      nitrate: s.kit.nitrate,
      steps: { ammonia: s.kit["ammonia steps"], nitrite: s.kit["nitrite steps"], nitrate: s.kit["nitrate steps"] },
    },
    ask: {
      tanGPerM3: scales.nitrogen("ammonia", s.ask.dose),
      words: `${format.plain(s.ask.dose.gPerM3)} mg/L${s.ask.dose.basis ? ` as ${s.ask.dose.basis}` : ""}`,
      withinDays: s.ask.within / SECONDS_PER_DAY,
      times: s.ask.times,
    },
    food: plannedFood(s),
    fishless,
    readings: s.readings.map((r) => ({
      day: r.at,
      ammonia: r.ammonia ?? null,
      nitrite: r.nitrite ?? null,
      nitrate: r.nitrate ?? null,
      ph: r.ph ?? null,
      alkalinityEqPerM3: r.kh ?? null,
    })),
    uncertain: s.uncertain,
    outage: outageOf(s["power cut"], "power cut", s["closed filter"] !== "none", notes),
    cutsInARow: { times: s["power cut"].times, pauseS: s["power cut"].pause },
    labelM3: Object.fromEntries(
      s.tank.flatMap((tank) => (tank["label volume"] === undefined ? [] : [[tank.name, tank["label volume"]]])),
    ),
    measured: s.measured
      ? {
          returnFlowM3PerS: s.measured["return flow"] ?? null,
          drainCapacityM3PerS: s.measured["drain capacity"] ?? null,
          levelRiseM: s.measured["level rise"] ?? null,
        }
      : null,
    calibrations: [],
    neglect:
      s.neglect === "none"
        ? null
        : {
            days: Math.round(s.neglect.for / SECONDS_PER_DAY),
            weirPerWeek: s.neglect.weir,
            padPerWeek: s.neglect.pad,
            topOff: s.neglect["top off"],
          },
    hoses: hosesOf(s, rig, surfaceZ, waterM3, notes),
    battery: s.battery === "none" ? null : { capacityWh: s.battery.capacity, airW: s.battery["air pump"] },
    surfaceZ,
    waterM3,
    defaults: dedupe(notes.defaults),
    warnings: notes.warnings,
  };
}

/** Lists a tap only once when several water changes use it. */
const dedupe = (defaults: readonly DefaultUsed[]): readonly DefaultUsed[] => [
  ...new Map(defaults.map((d) => [d.key, d])).values(),
];
