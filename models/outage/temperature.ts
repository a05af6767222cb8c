// Warmth through a cut: display, stagnant sump and drained tower each cool (or are heated) by themselves.

import type { StiffProblem } from "../../sim/problem.ts";
import { StiffSolver } from "../../sim/stiff.ts";
import { type HeatCell, type HeatFlow, type HeatNetwork, temperatureJacobian, temperatureRates } from "../heat/balance.ts";
import { airVapourPressurePa, COVERED_FACTOR, evaporativeCoefficientWPerM2Pa, UNDISTURBED_FACTOR } from "../heat/evaporation.ts";
import { ROOM_FILM_M2_K_PER_W, surfaceUWPerM2K, tankUaWPerK, WATER_FILM_W_PER_M2_K, wallUWPerM2K } from "../heat/walls.ts";
import type { AnimalKind } from "../nitrogen/plan.ts";
import { type Display, displayPlanM2, type Sump, type Tower } from "../rig.ts";
import { airDensityKgPerM3, type TowerLid, towerAirExchangeM3PerS } from "../tower/ventilation.ts";
import { densityKgPerM3, specificHeatJPerKgK } from "../water/density.ts";
import { airPressurePa } from "../water/pressure.ts";
import { latentHeatJPerKg } from "../water/vapour.ts";
import { type AtRest, type Clock, type Cut, cellOf, firstCrossingH, HORIZON_H, rangeH, roomDuring } from "./cut.ts";

const SECONDS_PER_HOUR = 3600;
/** Curves are sampled four times an hour. */
export const CURVE_STEP_H = 0.25;
/** Heat held by the solid of media, J/(m3 K): plastics and stone both lie near 2e6 (from memory). */
const SOLID_HEAT_J_PER_M3_K = 2e6;
/** Walls of a tower: 5 mm acrylic (modelling assumption; the drawing does not say). */
const TOWER_WALL_M = 0.005;
const DRY_AIR_J_PER_KG_K = 1006;
/** Thermostats throttle over half a kelvin (common practice, no published source). */
const THERMOSTAT_BAND_K = 0.5;
/** Heat loss of a tank on its stand is known to a factor of 1.4 either way (modelling assumption: draughts, rim, cabinet, rock). */
export const HEAT_LOSS_FACTOR = 1.4;

/** How the keeper helps the tank to stay warm. */
export interface Wrapping {
  /** Thermal resistance added on the sides [m2 K/W]; the top stays open for air. */
  readonly sidesM2KPerW: number;
}

/** A blanket or foam sheet of 20 mm at 0.04 W/(m K) round the sides (handbook conductivity, from memory). */
export const BLANKET: Wrapping = { sidesM2KPerW: 0.5 };
const BARE: Wrapping = { sidesM2KPerW: 0 };

/** How a tower stands during the cut: opened by hand, else as built; a tower without a lid behind a shut cabinet door counts as vented. */
export function lidDuring(rest: AtRest, tower: Tower, cut: Cut): TowerLid {
  if (cut.towerOpen) return "open";
  return tower.lid === "open" && rest.rig.cabinet !== null ? "vented" : tower.lid;
}

/** Air passing a tower during the cut [kg/s], at a tower temperature. No fan runs. */
export function towerAirKgPerS(rest: AtRest, tower: Tower, cut: Cut, temperatureC: number): number {
  const room = { ...roomDuring(rest.rig, cut), pressurePa: airPressurePa(rest.rig.room.altitudeM) };
  const air = {
    planAreaM2: tower.lengthM * tower.widthM,
    heightM: tower.mediaDepthM + 0.1,
    lid: lidDuring(rest, tower, cut),
    forcedM3PerS: cut.everythingOff ? 0 : tower.airFlowM3PerS,
  };
  return (
    towerAirExchangeM3PerS(air, temperatureC, room) * airDensityKgPerM3(room.temperatureC, room.relativeHumidity, room.pressurePa)
  );
}

/** Dry and wet conductance of an open surface: W/K and W/Pa. Under a cover the air gap and its upper film come in series. */
function surface(areaM2: number, covered: boolean, temperatureC: number): { readonly ua: number; readonly wet: number } {
  const open = UNDISTURBED_FACTOR * evaporativeCoefficientWPerM2Pa(0);
  const u = surfaceUWPerM2K(open, temperatureC);
  return covered
    ? { ua: areaM2 / (1 / u + ROOM_FILM_M2_K_PER_W.upward), wet: areaM2 * COVERED_FACTOR * open }
    : { ua: areaM2 * u, wet: areaM2 * open };
}

function wrapped(uWPerM2K: number, wrapping: Wrapping): number {
  return 1 / (1 / uWPerM2K + wrapping.sidesM2KPerW);
}

/** Walls of the display: as `tankUaWPerK`, with the wrapping on the four sides. */
function displayUa(display: Display, depthM: number, wrapping: Wrapping): number {
  const all = tankUaWPerK(display.lengthM, display.widthM, depthM, display.glassM, display.wallMaterial);
  const u = wallUWPerM2K(display.wallMaterial, display.glassM, ROOM_FILM_M2_K_PER_W.sideways);
  return all - 2 * (display.lengthM + display.widthM) * depthM * (u - wrapped(u, wrapping));
}

/** Outer walls of one chamber: two long sides, bottom, and an end wall for the first and the last. */
function chamberUa(sump: Sump, index: number, depthM: number, wrapping: Wrapping): number {
  const side = wrapped(wallUWPerM2K(sump.wallMaterial, sump.glassM, ROOM_FILM_M2_K_PER_W.sideways), wrapping);
  const bottom = wallUWPerM2K(sump.wallMaterial, sump.glassM, ROOM_FILM_M2_K_PER_W.downward);
  const { lengthM } = sump.chambers[index];
  const ends = Number(index === 0) + Number(index === sump.chambers.length - 1);
  return (2 * lengthM + ends * sump.widthM) * depthM * side + lengthM * sump.widthM * bottom;
}

/** Chamber that the heater hangs in: the one for it, else the return chamber. */
export function heaterChamber(sump: Sump): number {
  const index = sump.chambers.findIndex((chamber) => chamber.role === "heater");
  return index >= 0 ? index : sump.chambers.length - 1;
}

/**
 * Heat network of the resting rig, cells in the order of `rest.cells`. The pump is off: nothing flows but heat through the baffles.
 * The heater works only when it has power (`everythingOff` false). Air in the cabinet is room air; behind a shut door the sump loses
 * water like a covered tank (modelling assumptions). Volumes are constant: a day's evaporation is about one per cent.
 * @param lossFactor scales every loss to the room, for the range
 */
export function restingHeatNetwork(rest: AtRest, cut: Cut, wrapping: Wrapping = BARE, lossFactor = 1): HeatNetwork {
  const { rig, husbandry, volumesM3 } = rest;
  const { sump, salinityGPerKg } = rig;
  const room = roomDuring(rig, cut);
  const waterC = husbandry.temperatureC;
  const perM3 = densityKgPerM3(waterC, salinityGPerKg) * specificHeatJPerKgK(waterC, salinityGPerKg);
  const shutCabinet = rig.cabinet !== null && !cut.towerOpen;
  const heated = heaterChamber(sump);
  const cells = rest.cells.map((cell, c): HeatCell => {
    const water = volumesM3[c] * perM3;
    const common = { salinityGPerKg, constantW: 0, heater: null };
    const losing = (ua: number, wet: number) => ({ uaWPerK: lossFactor * ua, evaporativeWPerPa: lossFactor * wet });
    if (cell.kind === "display") {
      const display = rig.displays.find((d) => d.id === cell.partOf);
      if (!display) throw new Error(`no display ${cell.partOf}`);
      const plan = displayPlanM2(display);
      const top = surface(plan, display.lid === "covered", waterC);
      return {
        ...common,
        heatCapacityJPerK: water,
        ...losing(displayUa(display, volumesM3[c] / plan, wrapping) + top.ua, top.wet),
      };
    }
    if (cell.kind === "chamber") {
      const index = sump.chambers.findIndex((chamber) => chamber.id === cell.partOf);
      const area = sump.chambers[index].lengthM * sump.widthM;
      const top = surface(area, shutCabinet, waterC);
      const on = !cut.everythingOff && index === heated && husbandry.heaterW > 0;
      return {
        ...common,
        heatCapacityJPerK: water,
        ...losing(chamberUa(sump, index, volumesM3[c] / area, wrapping) + top.ua, top.wet),
        heater: on ? { maxW: husbandry.heaterW, setpointC: waterC, bandK: THERMOSTAT_BAND_K } : null,
      };
    }
    const tower = rig.towers.find((t) => t.id === cell.partOf);
    if (!tower) throw new Error(`no tower ${cell.partOf}`);
    const bed = tower.lengthM * tower.widthM * tower.mediaDepthM;
    const walls = 2 * (tower.lengthM + tower.widthM) * tower.mediaDepthM;
    const wallU = wallUWPerM2K("acrylic", TOWER_WALL_M, ROOM_FILM_M2_K_PER_W.sideways, 1 / ROOM_FILM_M2_K_PER_W.sideways);
    const airKgPerS = towerAirKgPerS(rest, tower, cut, waterC);
    const top =
      lidDuring(rest, tower, cut) === "open"
        ? tower.lengthM * tower.widthM * surfaceUWPerM2K(evaporativeCoefficientWPerM2Pa(0), waterC)
        : 0;
    return {
      ...common,
      heatCapacityJPerK: water + bed * (1 - tower.media.voidShare) * SOLID_HEAT_J_PER_M3_K,
      ...losing(walls * wallU + top + airKgPerS * DRY_AIR_J_PER_KG_K, towerVapourWPerPa(rest, tower, cut, airKgPerS, waterC)),
    };
  });
  return {
    cells,
    flows: baffles(rest),
    roomTemperatureC: room.temperatureC,
    roomVapourPa: airVapourPressurePa(room.temperatureC, room.relativeHumidity),
  };
}

/**
 * Vapour conductance of a tower [W/Pa]: what the passing air can carry (0.62198 L/p per kg of it) and what the media's surface can give off act
 * in series (the two limits of `towerEvaporationKgPerS`); an open top gives off over its plan besides, as a tank does.
 */
export function towerVapourWPerPa(rest: AtRest, tower: Tower, cut: Cut, airKgPerS: number, temperatureC: number): number {
  const plan = tower.lengthM * tower.widthM;
  const byAir = (airKgPerS * 0.62198 * latentHeatJPerKg(temperatureC)) / airPressurePa(rest.rig.room.altitudeM);
  const bySurface = tower.media.specificSurfaceM2PerM3 * plan * tower.mediaDepthM * evaporativeCoefficientWPerM2Pa(0);
  const top = lidDuring(rest, tower, cut) === "open" ? plan * evaporativeCoefficientWPerM2Pa(0) : 0;
  return (byAir * bySurface) / (byAir + bySurface) + top;
}

/** Heat through the baffles between neighbouring chambers, the same conductance both ways. */
function baffles(rest: AtRest): HeatFlow[] {
  const { sump } = rest.rig;
  const u = wallUWPerM2K(sump.wallMaterial, sump.glassM, 1 / WATER_FILM_W_PER_M2_K);
  return sump.chambers.slice(1).flatMap((chamber, i) => {
    const left = cellOf(rest, "chamber", sump.chambers[i].id);
    const right = cellOf(rest, "chamber", chamber.id);
    const depth = (c: number, lengthM: number) => rest.volumesM3[c] / (lengthM * sump.widthM);
    const shared = Math.min(depth(left, sump.chambers[i].lengthM), depth(right, chamber.lengthM));
    const capacityWPerK = u * sump.widthM * shared;
    return [
      { from: left, to: right, capacityWPerK },
      { from: right, to: left, capacityWPerK },
    ];
  });
}

/** Temperatures of all cells every quarter of an hour; `at` reads between, and holds the last value beyond the end. */
export interface TemperatureCurve {
  readonly stepH: number;
  /** [sample][cell] in °C. */
  readonly samples: readonly Float64Array[];
  at(hours: number): readonly number[];
}

/**
 * Integrates a heat network from given temperatures.
 * @throws Error when the integrator gives up (with its reason)
 */
export function temperatureCurve(network: HeatNetwork, startC: readonly number[], hours: number): TemperatureCurve {
  const stepH = CURVE_STEP_H;
  const solver = new StiffSolver(heatProblem(network), { tolerances: { relative: 1e-6, absolute: 1e-4 } });
  const count = Math.max(1, Math.ceil(hours / stepH));
  const y = Float64Array.from(startC);
  const samples = [Float64Array.from(y)];
  const outcome = solver.advance(0, count * stepH * SECONDS_PER_HOUR, y, (step) => {
    while (samples.length <= count && samples.length * stepH * SECONDS_PER_HOUR <= step.t1) {
      const sample = new Float64Array(y.length);
      step.at(samples.length * stepH * SECONDS_PER_HOUR, sample);
      samples.push(sample);
    }
    return undefined;
  });
  if (outcome.status === "failed") throw new Error(`temperatures through the cut: ${outcome.message}`);
  while (samples.length <= count) samples.push(Float64Array.from(y));
  return {
    stepH,
    samples,
    at(h) {
      const x = Math.min(Math.max(h / stepH, 0), samples.length - 1);
      const i = Math.min(Math.floor(x), samples.length - 2);
      return Array.from(samples[i], (left, c) => left + (x - i) * (samples[i + 1][c] - left));
    },
  };
}

/** A heat network as a stiff problem with a full matrix; time in seconds. */
function heatProblem(network: HeatNetwork): StiffProblem {
  const size = network.cells.length;
  return {
    size,
    pattern: {
      size,
      rowStart: Int32Array.from({ length: size + 1 }, (_, i) => i * size),
      columns: Int32Array.from({ length: size * size }, (_, i) => i % size),
    },
    derivative: (_t, y, out) => temperatureRates(network, y, out),
    jacobian: (_t, y, values) => temperatureJacobian(network, y, values),
  };
}

/** Temperatures through a cut that begins with all water at the keeper's set-point (or at `startC`). */
export function cutTemperatures(rest: AtRest, cut: Cut, hours: number, startC?: readonly number[]): TemperatureCurve {
  return temperatureCurve(restingHeatNetwork(rest, cut), startC ?? rest.cells.map(() => rest.husbandry.temperatureC), hours);
}

/** The hook of the nitrogen timeline: temperatures of the cells, hours after a cut began [°C]. Each cut is computed once. */
export function outageTemperatures(rest: AtRest): (hours: number, cut: Cut) => readonly number[] {
  const curves = new Map<Cut, TemperatureCurve>();
  return (hours, cut) => {
    let curve = curves.get(cut);
    if (!curve) {
      curve = cutTemperatures(rest, cut, cut.hours);
      curves.set(cut, curve);
    }
    return curve.at(hours);
  };
}

/** Limits that a temperature clock watches [°C]. */
export interface TemperatureLimits {
  readonly amberLowC: number;
  readonly redLowC: number;
  readonly amberHighC: number;
  readonly redHighC: number;
}

const TROPICAL: TemperatureLimits = { amberLowC: 20, redLowC: 18, amberHighC: 30, redHighC: 32 };

/** Common practice, no published source: most tropical stock is kept at 23-28 °C and shows distress outside 18-32 °C; hardy and delicate species stray by several degrees. */
export const TEMPERATURE_LIMITS_C: Readonly<Record<AnimalKind, TemperatureLimits>> = {
  "warm-water fish": TROPICAL,
  "marine fish": TROPICAL,
  invertebrate: TROPICAL,
  "cold-water fish": { amberLowC: 4, redLowC: 2, amberHighC: 22, redHighC: 25 },
};

/** Animals kept at a temperature are used to it: a limit never lies nearer than 3 K (amber) or 5 K (red) to it (modelling assumption). */
export function limitsFor(kind: AnimalKind, keptAtC: number): TemperatureLimits {
  const limits = TEMPERATURE_LIMITS_C[kind];
  return {
    amberLowC: Math.min(limits.amberLowC, keptAtC - 3),
    redLowC: Math.min(limits.redLowC, keptAtC - 5),
    amberHighC: Math.max(limits.amberHighC, keptAtC + 3),
    redHighC: Math.max(limits.redHighC, keptAtC + 5),
  };
}

/** When the first display leaves the range of the animals in it, losses being 1.4 times more or less than computed. */
export function temperatureClock(rest: AtRest, cut: Cut, kinds: readonly AnimalKind[], wrapping: Wrapping = BARE): Clock {
  const startC = rest.husbandry.temperatureC;
  const displays = rest.cells.flatMap((cell, c) => (cell.kind === "display" ? [c] : []));
  const limits = kinds.map((kind) => limitsFor(kind, startC));
  const curves = [HEAT_LOSS_FACTOR, 1 / HEAT_LOSS_FACTOR].map((factor) =>
    temperatureCurve(
      restingHeatNetwork(rest, cut, wrapping, factor),
      rest.cells.map(() => startC),
      HORIZON_H,
    ),
  );
  const first = (curve: TemperatureCurve, low: keyof TemperatureLimits, high: keyof TemperatureLimits): number | null => {
    const times = displays.flatMap((c) => {
      const values = curve.samples.map((sample) => sample[c]);
      return limits.flatMap((limit) => [
        firstCrossingH(curve.stepH, values, limit[low], -1),
        firstCrossingH(curve.stepH, values, limit[high], 1),
      ]);
    });
    return times.reduce((best, t) => (t !== null && (best === null || t < best) ? t : best), null);
  };
  const [fast, slow] = curves;
  const afterDay = [fast, slow].map((curve) => Math.min(...displays.map((c) => curve.at(24)[c])));
  const room = roomDuring(rest.rig, cut).temperatureC;
  return {
    id: "temperature",
    name: "Temperature of the display",
    amberH: rangeH(first(fast, "amberLowC", "amberHighC"), first(slow, "amberLowC", "amberHighC")),
    redH: rangeH(first(fast, "redLowC", "redHighC"), first(slow, "redLowC", "redHighC")),
    why: `From ${startC.toFixed(1)} °C in a room of ${room.toFixed(1)} °C the display stands at ${afterDay[0].toFixed(1)} to ${afterDay[1].toFixed(1)} °C after a day.`,
    source:
      "walls by EN ISO 6946, evaporation by Carrier (1918)/ASHRAE with the undisturbed-surface factor of Smith, Löf & Jones (1998); limits: common practice, no published source",
  };
}

/** Rate at which a heater warms a body of water that does not move, losses left out [K/h]. */
export function stagnantHeatingKPerH(heaterW: number, volumeM3: number, temperatureC: number, salinityGPerKg: number): number {
  const heat = volumeM3 * densityKgPerM3(temperatureC, salinityGPerKg) * specificHeatJPerKgK(temperatureC, salinityGPerKg);
  return (heaterW * SECONDS_PER_HOUR) / heat;
}

/** Words for a heater left on in a sump that does not flow; null when it has no power or there is none. */
export function stagnantHeaterWarning(rest: AtRest, cut: Cut): string | null {
  const { heaterW, temperatureC } = rest.husbandry;
  if (cut.everythingOff || heaterW <= 0) return null;
  const chamber = rest.rig.sump.chambers[heaterChamber(rest.rig.sump)];
  const volume = rest.volumesM3[cellOf(rest, "chamber", chamber.id)];
  const rate = stagnantHeatingKPerH(heaterW, volume, temperatureC, rest.rig.salinityGPerKg);
  return `The heater stands in ${(volume * 1000).toFixed(0)} L that do not flow: it can warm them by ${rate.toFixed(1)} K an hour until its thermostat stops it, while the display cools.`;
}
