// Invented tanks for the acceptance tests of the nitrogen model: one display over a tower and a sump, with water circulating at a
// stated turnover (the hydraulic model has its own tests).
import type { Exchange, WaterCell } from "../../../models/coupling/exchange.ts";
import { NOTHING_ON_A_KIT, Trial } from "../../../models/nitrogen/analysis/capacity.ts";
import type { ManagementEvent, Plan } from "../../../models/nitrogen/events/all.ts";
import { type ParameterId, parameterValues } from "../../../models/nitrogen/kinetics/parameters.ts";
import type { AnimalGroup, Climate, Management, TapWater } from "../../../models/nitrogen/management.ts";
import {
  type PlannedModel,
  type Run,
  type RunOptions,
  runSimulation,
  sampledState,
} from "../../../models/nitrogen/simulation/simulation.ts";
import { inoculatedStock, matureStock } from "../../../models/nitrogen/tank/biofilm-stock.ts";
import { buildNitrogenModel } from "../../../models/nitrogen/tank/nitrogen-model.ts";
import type { Rig, Tower } from "../../../models/rig.ts";
import {
  CO2,
  carbonateConstants,
  co2TensionAtm,
  dicMolPerM3,
  PH_RESULT_LENGTH,
  solvePh,
} from "../../../models/water/carbonate.ts";
import { figuresOf } from "../../validation/compared.ts";

const fittings = { bends90: 2, bends45: 0, bends180: 0, tees: 0, unions: 1, extraK: 0 };

export interface TankOptions {
  litres?: number;
  turnover?: number;
  mediaLitres?: number;
  mediaSurface?: number;
  wetted?: number | null;
  otherSurfaceM2?: number;
  temperatureC?: number;
  ph?: number;
  dKh?: number;
  salt?: number;
  tan?: number;
  foamFractionator?: Management["foamFractionator"];
  no2?: number;
  no3?: number;
  days?: number;
  groups?: AnimalGroup[];
  events?: ManagementEvent[];
  plants?: number;
  seed?: number;
  where?: "media" | "everywhere";
  tower?: Partial<Tower>;
  /** Carbon dioxide in room air; "holds the pH" = the share that maintains the starting pH at the starting alkalinity. */
  co2Share?: number | "holds the pH";
  climate?: Climate;
  changes?: Partial<Record<ParameterId, number>>;
  run?: Partial<RunOptions>;
}

export const eqPerDkh = 0.357;

export function group(foodGPerDay: number, more: Partial<AnimalGroup> = {}): AnimalGroup {
  return {
    id: "fish",
    name: "fish",
    kind: "warm-water fish",
    count: 10,
    massG: 5,
    foodGPerDay,
    proteinShare: 0.45,
    uneatenShare: 0.02,
    feedingHours: [9, 18],
    arrivesDay: 0,
    leavesDay: null,
    growthPerDay: null,
    ...more,
  };
}

export function tap(o: TankOptions, more: Partial<TapWater> = {}): TapWater {
  return {
    ph: o.ph ?? 7.8,
    alkalinityEqPerM3: (o.dKh ?? 8) * eqPerDkh,
    tanGPerM3: 0,
    no2GPerM3: 0,
    no3GPerM3: 0,
    chlorideGPerM3: 30,
    salinityGPerKg: o.salt ?? 0,
    temperatureC: o.temperatureC ?? 25,
    chloramineGPerM3: 0,
    treated: true,
    ...more,
  };
}

function holdingCo2Share(o: TankOptions): number {
  const constants = carbonateConstants(o.temperatureC ?? 25, o.salt ?? 0);
  const alkalinity = (o.dKh ?? 8) * eqPerDkh;
  const out = new Float64Array(PH_RESULT_LENGTH);
  const ammonia = (o.tan ?? 0) / 14.007;
  solvePh(constants, alkalinity, dicMolPerM3(constants, o.ph ?? 7.8, alkalinity, ammonia), ammonia, 8, out);
  return co2TensionAtm(constants, out[CO2]);
}

export function tank(o: TankOptions): PlannedModel {
  const litres = o.litres ?? 180;
  const display = 0.78 * (litres / 1000);
  const media = (o.mediaLitres ?? 0.09 * litres) / 1000;
  const side = Math.cbrt(display);
  const rig: Rig = {
    displays: [
      {
        id: "display",
        name: "display",
        lengthM: side * 1.5,
        widthM: side,
        heightM: side,
        glassM: 0.01,
        wallMaterial: "glass",
        bottomZ: 0.8,
        displacements: [],
        lid: "open",
        overflows: [],
      },
    ],
    towers: [
      {
        id: "tower",
        lengthM: Math.sqrt(media / 0.3),
        widthM: Math.sqrt(media / 0.3),
        mediaDepthM: 0.3,
        grateZ: 0.25,
        media: { kind: "plastic ring 25 mm", specificSurfaceM2PerM3: o.mediaSurface ?? 160, voidShare: 0.92, pieceM: 0.025 },
        distribution: "drip plate",
        wettedShare: o.wetted === undefined ? null : o.wetted,
        arm: null,
        prefilter: { grade: "medium", areaM2: media / 0.3, thicknessM: 0.02, blindedShare: 0, spillsTo: "past the media" },
        tray: { depthM: 0.04, holes: 80, holeDiameterM: 0.004, spillsTo: "past the media" },
        lid: "open",
        airFlowM3PerS: 0,
        drainsTo: "sump",
        ...o.tower,
      },
    ],
    sump: {
      lengthM: 0.6,
      widthM: 0.3,
      heightM: 0.35,
      glassM: 0.006,
      wallMaterial: "glass",
      chambers: [{ id: "sump", role: "return", lengthM: 0.6, displacements: [], submergedMedia: null, sock: null }],
      joined: [],
      baffles: [],
      runningLevelM: 0.2,
    },
    moreReturns: [],
    return: {
      name: "",
      backupS: 0,
      circuit: "mains",
      pump: {
        curve: [
          [0, 2.5],
          [6e-4, 0],
        ],
        guessed: false,
        powerW: 30,
        intakeM: 0.05,
        idleK: 5,
        timer: null,
      },
      riser: { boreM: 0.025, lengthM: 1.5, roughnessM: 1.5e-6, fittings },
      valveOpenShare: 1,
      checkValve: "none",
      checkValveWeepM3PerS: 0,
      nozzles: [],
      branches: [],
    },
    closedFilters: [],
    topOff: null,
    cabinet: null,
    room: {
      temperatureC: 21,
      relativeHumidity: 0.5,
      altitudeM: 50,
      co2Share: o.co2Share === "holds the pH" ? holdingCo2Share(o) : (o.co2Share ?? 700e-6),
    },
    waterTemperatureC: o.temperatureC ?? 25,
    salinityGPerKg: o.salt ?? 0,
    evaporationM3PerS: null,
    stand: null,
  };
  const management: Plan = {
    days: o.days ?? 60,
    start: {
      ph: o.ph ?? 7.8,
      alkalinityEqPerM3: (o.dKh ?? 8) * eqPerDkh,
      tanGPerM3: o.tan ?? 0,
      no2GPerM3: o.no2 ?? 0,
      no3GPerM3: o.no3 ?? 0,
      chlorideGPerM3: 30,
      salinityGPerKg: o.salt ?? 0,
    },
    temperatureC: o.temperatureC ?? 25,
    tap: tap(o),
    groups: o.groups ?? [],
    plants: o.plants ? { uptakeGNPerDay: o.plants } : null,
    seed: { low: 1e-5, likely: o.seed ?? 1e-4, high: 1e-3, where: o.where ?? "everywhere" },
    surfaces: { displayM2: o.otherSurfaceM2 ?? 1.2 * (litres / 180) },
    airStonePerDay: 0,
    foamFractionator: o.foamFractionator ?? null,
    heaterW: 150,
    climate: o.climate ?? null,
    events: o.events ?? [],
  };
  const cells: WaterCell[] = [
    { id: "display", name: "display", kind: "display", partOf: "display" },
    { id: "tower", name: "tower", kind: "tower", partOf: "tower" },
    { id: "sump", name: "sump", kind: "chamber", partOf: "sump" },
  ];
  const flow = (o.turnover ?? 5) * (litres / 1000) * 24;
  const towerWater = 0.04 * media;
  const exchange: Exchange = {
    volumesM3: [display, towerWater, litres / 1000 - display - towerWater],
    flows: [
      { from: 0, to: 1, m3PerDay: flow },
      { from: 1, to: 2, m3PerDay: flow },
      { from: 2, to: 0, m3PerDay: flow },
    ],
  };
  return buildNitrogenModel(rig, management, cells, exchange, parameterValues(o.changes));
}

export function keepTank(o: TankOptions): Run {
  const aquarium = tank(o);
  const { likely, where } = aquarium.management.seed;
  const biofilm = inoculatedStock(aquarium, matureStock(aquarium), likely, where);
  return runSimulation(aquarium, { outputsPerDay: 12, relative: 1e-4, begin: biofilm, stop: null, ...o.run });
}

/** Series of one substance in the display. */
export function seen(
  run: Run,
  substance: "tan" | "no2" | "no3" | "o2" | "alk" | "ss" | "xh",
  cell = 0,
): { day: number; value: number }[] {
  const i = run.aquarium.layout.cellIndex(cell, substance);
  return run.days.map((day, n) => ({ day, value: run.states[n][i] }));
}

export const peak = (series: { day: number; value: number }[], from = 0, to = Number.POSITIVE_INFINITY) =>
  series
    .filter((p) => p.day >= from && p.day <= to)
    .reduce((best, p) => (p.value > best.value ? p : best), { day: -1, value: Number.NEGATIVE_INFINITY });
export const firstBelow = (series: { day: number; value: number }[], level: number, after: number) =>
  series.find((p) => p.day > after && p.value < level)?.day ?? Number.POSITIVE_INFINITY;
export const daysAbove = (series: { day: number; value: number }[], level: number) =>
  series.reduce((sum, p, i) => sum + (i > 0 && p.value > level ? p.day - series[i - 1].day : 0), 0);
export const at = (series: { day: number; value: number }[], day: number) =>
  series.reduce((best, p) => (Math.abs(p.day - day) < Math.abs(best.day - day) ? p : best)).value;
/** Readings each morning at half past eight, before the first feeding, in another unit. */
export const morning = (series: { day: number; value: number }[], perN: number): { day: number; value: number }[] =>
  Array.from({ length: Math.floor(series[series.length - 1].day) }, (_, day) => ({
    day: day + 0.354,
    value: perN * at(series, day + 0.354),
  }));
/** Factors from mg/L as NH3 etc. to g N/m³, from molar masses. */
export const asN = { NH3: 1 / 1.2159, NO2: 1 / 3.2844, NO3: 1 / 4.4266 };
export const everyDay = (from: number, to: number, event: (day: number) => ManagementEvent): ManagementEvent[] =>
  Array.from({ length: to - from + 1 }, (_, i) => event(from + i));

/** The keeper's dose to a level [mg/L as NH3], morning by morning, only when ammonia and nitrite (0.25 and 1 mg/L) or ammonia alone
 * have cleared, or always. */
export const dosing = (
  toNH3: number,
  days: number,
  rule: "when cleared" | "when ammonia cleared" | "always" = "when cleared",
  substance: "ammonia" | "ammonium" = "ammonia",
): ManagementEvent[] =>
  everyDay(1, days - 1, (day) => ({
    day,
    label: "dose",
    kind: "dose",
    substance,
    amount: null,
    toLevel: toNH3 * asN.NH3,
    onlyBelow:
      rule === "always" ? null : { tan: 0.25 * asN.NH3, no2: rule === "when cleared" ? 1 * asN.NO2 : Number.POSITIVE_INFINITY },
  }));

/** Water changes of a share at noon, at an interval in days. */
export const waterChanges = (o: TankOptions, days: number, share = 0.25, every = 7): ManagementEvent[] =>
  everyDay(1, days - 1, (day) => ({ day: day + 0.5, label: "change", kind: "water change" as const, share, tap: tap(o) })).filter(
    ({ day }) => Math.floor(day) % every === 0,
  );

/**
 * First day on which the end test passes a second time running: a dose [mg/L as NH3] gone, both, within a day. It is tried each morning on which
 * the water reads clear, before any dose, as keepers do. Infinity when it never does.
 */
export function readyDay(run: Run, doseNH3 = 2, limits = NOTHING_ON_A_KIT): number {
  const { aquarium, days, states } = run;
  const { tanGPerM3, no2GPerM3 } = limits;
  const trial = new Trial(aquarium);
  const [tan, no2] = [aquarium.layout.cellIndex(0, "tan"), aquarium.layout.cellIndex(0, "no2")];
  let passes = 0;
  let i = 0;
  for (let day = 1; day <= days[days.length - 1]; day++) {
    while (days[i + 1] < day - 1e-9) i++;
    if (states[i][tan] > tanGPerM3 || states[i][no2] > no2GPerM3) continue;
    passes = trial.clearsDose(sampledState(run, i), doseNH3 * asN.NH3, 1, limits) ? passes + 1 : 0;
    if (passes === 2) return day;
  }
  return Number.POSITIVE_INFINITY;
}

/** Number of doses that were actually given. */
export const doses = (run: Run): number => run.marks.filter((mark) => mark.kind === "dose").length;
/** Prints what a case gave beside its name, to read in the test log; the validation page gets it too. */
export const tell = (id: string, figures: Record<string, number>): void => {
  figuresOf(id, figures);
  console.info(
    `${id}: ${Object.entries(figures)
      .map(([name, value]) => `${name} ${Number.isInteger(value) ? value : value.toPrecision(3)}`)
      .join(", ")}`,
  );
};
