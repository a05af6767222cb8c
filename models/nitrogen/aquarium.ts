// The nitrogen system of a rig: which cells and films there are, and what the built thing makes of their transfer coefficients.

import type { Exchange, WaterCell } from "../exchange.ts";
import { STILL_SURFACE_K600_M_PER_DAY, stirredK600MPerDay, surfaceVelocityMPerDay } from "../gas/surfaceExchange.ts";
import { gamesonDeficitRatio, waterQualityFactor } from "../gas/weirAeration.ts";
import { ACTIVITY_FACTOR, restingOxygenGPerDay } from "../life/respiration.ts";
import { displayPlanM2, type Rig, type Tower } from "../rig.ts";
import { floodedBedCoefficientMPerS, openSurfaceCoefficientMPerS, wallCoefficientMPerS } from "../tower/masstransfer.ts";
import { mediaType } from "../tower/media.ts";
import { ondaLiquidCoefficientMPerS } from "../tower/onda.ts";
import { towerAirExchangeM3PerS } from "../tower/ventilation.ts";
import { BIOFILM_TENSION_N_PER_M, SPRINKLED_PLAN_SHARE, towerWetting, wettingUncertaintyFactor } from "../tower/wetting.ts";
import { carbonateConstants, co2PartialPressureAtm } from "../water/carbonate.ts";
import { diffusivityM2PerS } from "../water/diffusivity.ts";
import { liquidAt } from "../water/liquid.ts";
import { OXYGEN_GAS_G_PER_MOL } from "../water/molarMass.ts";
import { oxygenSaturationGPerM3 } from "../water/oxygen.ts";
import { airPressurePa } from "../water/pressure.ts";
import { ZERO_CELSIUS_K } from "../water/temperature.ts";
import type { ParameterValues } from "./parameters.ts";
import type { AnimalGroup, Husbandry } from "./plan.ts";
import { NitrogenSystem } from "./system.ts";
import type { Wiring } from "./wiring.ts";

const SECONDS_PER_DAY = 86400;
const HOURS_PER_DAY = 24;
/** Film on media and on other surfaces [m]: 200-400 µm is usual for nitrifying films (modelling assumption). */
const FILM_M = 3e-4;
/** Water in and on the film [m]: its pores and the layer that moves with it (modelling assumption). */
const FILM_WATER_M = 3e-4;
/** Water moves along glass and rock at about this speed [m/s], over this length [m] (modelling assumption). */
const DISPLAY_SPEED_M_PER_S = 0.02;
const DISPLAY_SURFACE_LENGTH_M = 0.3;
/** Ammonia gas over water, concentration ratio at rest (Henry, about 7e-4 at 25 °C, from memory). */
const NH3_HENRY = 7e-4;
/** Transfer of ammonia gas through the air side of an open surface [m/d]: Henry times 1.5e-3 m/s, which is what evaporation of 2 mm a day into a
 * room of 50 % humidity shows (derived; two-film theory, Lewis & Whitman 1924). */
const NH3_VELOCITY_M_PER_DAY = NH3_HENRY * 1.5e-3 * SECONDS_PER_DAY;
const GAS_CONSTANT = 8.314462618;
/** Mole fraction of oxygen in dry air. */
const O2_IN_AIR = 0.2095;
/** Share of the suspended waste in the flow that a clean pad of each grade holds back per pass, and media without one (modelling assumption). */
const PAD_CAPTURE = { coarse: 0.3, medium: 0.5, fine: 0.7 } as const;
const MEDIA_CAPTURE = 0.05;
/** Fall speed of waste in still chambers and in a stirred display [m/d] (modelling assumption; most is stirred up again). */
const SETTLING_M_PER_DAY = { settling: 20, other: 5, display: 1 } as const;

/** What may change on the timeline of one aquarium. */
export interface Upkeep {
  temperatureC: number[];
  /** Wetted share forced on each tower; null = from its distribution. */
  readonly wettedShare: (number | null)[];
  /** Share of each tower's pad that is blinded. */
  readonly blinded: number[];
  readonly lid: Tower["lid"][];
  running: boolean;
  /** Everything electrical is off, not only the return pump. */
  dark: boolean;
  aobActivity: number;
  nobActivity: number;
  plantUptakeGNPerDay: number;
  batteryAirPerDay: number;
  groups: readonly AnimalGroup[];
  /** What unfed animals give off [g N/d]. */
  fastingGNPerDay: number;
  salinityGPerKg: number;
}

export interface Aquarium {
  readonly rig: Rig;
  readonly husbandry: Husbandry;
  readonly cells: readonly WaterCell[];
  readonly exchange: Exchange;
  readonly system: NitrogenSystem;
  /** Index of each display, tower and chamber among the cells. */
  readonly displayCells: readonly number[];
  readonly towerCells: readonly number[];
  /** All surface under each film, wetted or not [m2]. */
  readonly surfaceM2: readonly number[];
  readonly filmOf: {
    readonly towers: readonly number[];
    readonly submerged: readonly number[];
    readonly displays: readonly number[];
  };
  /** Uncertainty factor on each tower's wetted share. */
  readonly wettingUncertainty: readonly number[];
}

/** Wires cells and films for a rig. Volumes and flows come from the hydraulic model. */
export function assemble(
  rig: Rig,
  husbandry: Husbandry,
  cells: readonly WaterCell[],
  exchange: Exchange,
  parameters: ParameterValues,
): Aquarium {
  const find = (kind: WaterCell["kind"], id: string): number => {
    const index = cells.findIndex((cell) => cell.kind === kind && cell.partOf === id);
    if (index < 0) throw new Error(`no water cell for the ${kind} ${id}`);
    return index;
  };
  const displayCells = rig.displays.map((display) => find("display", display.id));
  const towerCells = rig.towers.map((tower) => find("tower", tower.id));
  const ways: { from: number; to: number }[] = [];
  const way = (from: number, to: number): void => {
    if (from !== to && !ways.some((w) => w.from === from && w.to === to)) ways.push({ from, to });
  };
  for (const { from, to } of exchange.flows) way(from, to);
  // A blinded pad sends water past the media: a way that may carry nothing at first.
  rig.towers.forEach((tower, t) => {
    for (const { from, to } of exchange.flows) if (to === towerCells[t]) way(from, find("chamber", tower.drainsTo));
  });
  const films: Wiring["films"][number][] = [];
  const surfaceM2: number[] = [];
  const add = (id: string, name: string, cell: number, areaM2: number, coefficientMPerS: number): number => {
    const d = diffusivityM2PerS("ammonium", husbandry.temperatureC, 0);
    films.push({ id, name, cell, filmM: FILM_M, waterM: FILM_WATER_M, boundaryM: d / coefficientMPerS });
    return surfaceM2.push(areaM2) - 1;
  };
  const liquid = liquidAt(husbandry.temperatureC, rig.salinityGPerKg);
  const ammonium = diffusivityM2PerS("ammonium", husbandry.temperatureC, rig.salinityGPerKg);
  const wettingUncertainty: number[] = [];
  const towerFilms = rig.towers.map((tower, t) => {
    const flow = inflow(exchange, towerCells[t]) / SECONDS_PER_DAY;
    const load = Math.max(flow / planM2(tower), 1e-5);
    wettingUncertainty.push(wettingUncertaintyFactor(load));
    const wetted = wettedShareOf(tower, rig, husbandry, flow, null);
    const velocity = wallCoefficientMPerS(
      liquid,
      load,
      wetted * tower.media.specificSurfaceM2PerM3,
      tower.media.pieceM,
      ammonium,
    );
    return add(
      `${tower.id} media`,
      rig.towers.length > 1 ? `media of ${tower.id}` : "tower media",
      towerCells[t],
      tower.media.specificSurfaceM2PerM3 * planM2(tower) * tower.mediaDepthM,
      velocity,
    );
  });
  const submerged: number[] = [];
  rig.sump.chambers.forEach((chamber) => {
    const media = chamber.submergedMedia;
    if (!media || media.volumeM3 <= 0) return;
    const cell = find("chamber", chamber.id);
    const piece = mediaType(media.kind)?.pieceM ?? 0.02;
    const speed = inflow(exchange, cell) / SECONDS_PER_DAY / (chamber.lengthM * rig.sump.widthM);
    submerged.push(
      add(
        `${chamber.id} media`,
        `submerged media in the ${chamber.role} chamber`,
        cell,
        media.volumeM3 * media.specificSurfaceM2PerM3,
        floodedBedCoefficientMPerS(speed, piece, media.voidShare, ammonium),
      ),
    );
  });
  const share = (d: number) =>
    displayPlanM2(rig.displays[d]) / rig.displays.reduce((sum, display) => sum + displayPlanM2(display), 0);
  const displays = rig.displays.map((display, d) =>
    add(
      `${display.id} surfaces`,
      rig.displays.length > 1 ? `glass, rock and gravel of ${display.name}` : "glass, rock and gravel",
      displayCells[d],
      husbandry.surfaces.displayM2 * share(d),
      openSurfaceCoefficientMPerS(liquid, DISPLAY_SPEED_M_PER_S, DISPLAY_SURFACE_LENGTH_M, ammonium),
    ),
  );
  const system = new NitrogenSystem(
    {
      cells: cells.map(({ id, name }) => ({ id, name })),
      films,
      ways,
      gasCells: towerCells,
      guts: [
        { id: "the animals", cell: displayCells[0] },
        { id: "the dead", cell: displayCells[0] },
      ],
    },
    parameters,
  );
  return {
    rig,
    husbandry,
    cells,
    exchange,
    system,
    displayCells,
    towerCells,
    surfaceM2,
    filmOf: { towers: towerFilms, submerged, displays },
    wettingUncertainty,
  };
}

const planM2 = (tower: Tower): number => tower.lengthM * tower.widthM;
const inflow = (exchange: Exchange, cell: number): number =>
  exchange.flows.reduce((sum, flow) => sum + (flow.to === cell ? flow.m3PerDay : 0), 0);

/** Wetted share of a tower's surface: forced, stated by the user, or from its distribution and flow. */
export function wettedShareOf(tower: Tower, rig: Rig, husbandry: Husbandry, flowM3PerS: number, forced: number | null): number {
  const stated = forced ?? tower.wettedShare;
  if (stated !== null) return stated;
  const bed = {
    specificSurfaceM2PerM3: tower.media.specificSurfaceM2PerM3,
    pieceM: tower.media.pieceM,
    criticalTensionNPerM: BIOFILM_TENSION_N_PER_M,
    planAreaM2: planM2(tower),
    planWidthM: Math.max(tower.lengthM, tower.widthM),
    depthM: tower.mediaDepthM,
  };
  return towerWetting(
    bed,
    liquidAt(husbandry.temperatureC, rig.salinityGPerKg),
    flowM3PerS,
    SPRINKLED_PLAN_SHARE[tower.distribution],
  ).wettedShare;
}

export function startingUpkeep(aquarium: Aquarium): Upkeep {
  const { rig, husbandry, cells } = aquarium;
  return {
    temperatureC: cells.map(() => husbandry.temperatureC),
    wettedShare: rig.towers.map(() => null),
    blinded: rig.towers.map((tower) => tower.prefilter?.blindedShare ?? 0),
    lid: rig.towers.map((tower) => tower.lid),
    running: true,
    dark: false,
    aobActivity: 1,
    nobActivity: 1,
    plantUptakeGNPerDay: husbandry.plants?.uptakeGNPerDay ?? 0,
    batteryAirPerDay: 0,
    groups: [],
    fastingGNPerDay: 0,
    salinityGPerKg: rig.salinityGPerKg,
  };
}

/** Writes all conditions of the system for the present upkeep, volumes and flows; keeps the films' wetted areas to `setWettedAreas`. */
export function applyUpkeep(aquarium: Aquarium, upkeep: Upkeep, volumesM3: readonly number[]): void {
  const { rig, husbandry, cells, exchange, system, displayCells, towerCells } = aquarium;
  const { conditions } = system;
  const pressure = airPressurePa(rig.room.altitudeM);
  const salt = upkeep.salinityGPerKg;
  conditions.salinityGPerKg = salt;
  const flows = runningFlows(aquarium, upkeep);
  conditions.flows.set(flows);
  const total = volumesM3.reduce((sum, v) => sum + v, 0);
  const pumped = exchange.flows.filter((flow) => displayCells.includes(flow.to)).reduce((sum, flow) => sum + flow.m3PerDay, 0);
  const turnoversPerHour = upkeep.running ? pumped / total / HOURS_PER_DAY : 0;
  cells.forEach((cell, c) => {
    const at = conditions.cells[c];
    const t = upkeep.temperatureC[c];
    const volume = Math.max(volumesM3[c], 1e-6);
    const constants = carbonateConstants(t, salt);
    Object.assign(at, {
      volumeM3: volume,
      temperatureC: t,
      captureShare: 0,
      respirationGPerM3Day: 0,
      excretionGNPerM3Day: 0,
      plantUptakeGNPerM3Day: 0,
      o2SaturationGPerM3: oxygenSaturationGPerM3(t, salt, pressure),
      co2SaturationMolPerM3: constants.k0 * co2PartialPressureAtm(rig.room.co2Share, pressure, t, salt),
    });
    if (cell.kind === "tower") return;
    const display = rig.displays.find((d) => d.id === cell.partOf && cell.kind === "display");
    const chamber = rig.sump.chambers.find((ch) => ch.id === cell.partOf && cell.kind === "chamber");
    const surface = display ? displayPlanM2(display) : (chamber?.lengthM ?? 0) * rig.sump.widthM;
    const k600 = upkeep.running && turnoversPerHour > 0 ? stirredK600MPerDay(turnoversPerHour) : STILL_SURFACE_K600_M_PER_DAY;
    const added = display ? (upkeep.dark ? 0 : husbandry.airStonePerDay) + upkeep.batteryAirPerDay : 0;
    const fall = cell.kind === "chamber" && upkeep.running ? fallTransferPerDay(aquarium, flows, c, volume, t) : 0;
    const own = (surface / volume) * surfaceVelocityMPerDay("oxygen", t, salt, k600);
    at.o2TransferPerDay = own + added + fall;
    at.co2TransferPerDay =
      (own + added + fall) * Math.sqrt(diffusivityM2PerS("carbonDioxide", t, salt) / diffusivityM2PerS("oxygen", t, salt));
    at.nh3TransferPerDay = (surface / volume) * NH3_VELOCITY_M_PER_DAY;
    at.settlingPerDay =
      (display
        ? SETTLING_M_PER_DAY.display
        : chamber?.role === "settling"
          ? SETTLING_M_PER_DAY.settling
          : SETTLING_M_PER_DAY.other) / Math.max(volume / surface, 0.02);
  });
  const first = conditions.cells[displayCells[0]];
  for (const group of upkeep.groups)
    first.respirationGPerM3Day +=
      (group.count * restingOxygenGPerDay(group.massG, first.temperatureC) * ACTIVITY_FACTOR.likely) / first.volumeM3;
  first.excretionGNPerM3Day = upkeep.fastingGNPerDay / first.volumeM3;
  const last =
    conditions.cells[
      cells.findIndex((cell) => cell.kind === "chamber" && cell.partOf === rig.sump.chambers[rig.sump.chambers.length - 1].id)
    ];
  const { foamFractionator } = husbandry;
  last.skimmingPerDay =
    foamFractionator && upkeep.running ? (foamFractionator.flowM3PerDay * foamFractionator.removalShare) / last.volumeM3 : 0;
  first.plantUptakeGNPerM3Day = upkeep.plantUptakeGNPerDay / first.volumeM3;
  for (const [t, tower] of rig.towers.entries())
    towerConditions(aquarium, upkeep, tower, t, towerCells[t], volumesM3[towerCells[t]]);
  conditions.films.forEach((film) => {
    film.aobActivity = upkeep.aobActivity;
    film.nobActivity = upkeep.nobActivity;
  });
  system.refresh();
}

/** Flow of every way [m3/d]: the hydraulic ones, with what a blinded pad sends past the media; none while stopped. */
function runningFlows(aquarium: Aquarium, upkeep: Upkeep): number[] {
  const { rig, exchange, system, towerCells, cells } = aquarium;
  const { ways } = system.wiring;
  const flows = ways.map(() => 0);
  if (!upkeep.running) return flows;
  const at = (from: number, to: number) => ways.findIndex((w) => w.from === from && w.to === to);
  for (const flow of exchange.flows) flows[at(flow.from, flow.to)] += flow.m3PerDay;
  rig.towers.forEach((tower, t) => {
    const extra = Math.max(0, upkeep.blinded[t] - (tower.prefilter?.blindedShare ?? 0));
    if (extra === 0) return;
    const chamber = cells.findIndex((cell) => cell.kind === "chamber" && cell.partOf === tower.drainsTo);
    let spilled = 0;
    ways.forEach((w, i) => {
      if (w.to !== towerCells[t]) return;
      const past = flows[i] * extra;
      flows[i] -= past;
      flows[at(w.from, chamber)] += past;
      spilled += past;
    });
    flows[at(towerCells[t], chamber)] -= spilled;
  });
  return flows;
}

/** Oxygen picked up by water falling from drain or tower into a chamber, as a transfer coefficient of the chamber [1/d]. */
function fallTransferPerDay(
  aquarium: Aquarium,
  flows: readonly number[],
  chamber: number,
  volumeM3: number,
  temperatureC: number,
): number {
  const { system, cells } = aquarium;
  let sum = 0;
  system.wiring.ways.forEach((w, i) => {
    if (w.to !== chamber || cells[w.from].kind === "chamber") return;
    const ratio = gamesonDeficitRatio(0.1, temperatureC, waterQualityFactor(0), 1);
    sum += (flows[i] * (1 - 1 / ratio)) / volumeM3;
  });
  return sum;
}

function towerConditions(aquarium: Aquarium, upkeep: Upkeep, tower: Tower, t: number, cell: number, volumeM3: number): void {
  const { rig, husbandry, system, filmOf } = aquarium;
  const { conditions } = system;
  const at = conditions.cells[cell];
  const salt = upkeep.salinityGPerKg;
  const flow = system.wiring.ways.reduce((sum, w, i) => sum + (w.to === cell ? conditions.flows[i] : 0), 0) / SECONDS_PER_DAY;
  const liquid = liquidAt(at.temperatureC, salt);
  const bed = planM2(tower) * tower.mediaDepthM;
  const running = upkeep.running && flow > 0;
  const wetted = wettedShareOf(tower, rig, husbandry, Math.max(flow, 1e-7), upkeep.wettedShare[t]);
  const oxygen = diffusivityM2PerS("oxygen", at.temperatureC, salt);
  const packing = {
    specificSurfaceM2PerM3: tower.media.specificSurfaceM2PerM3,
    pieceM: tower.media.pieceM,
    criticalTensionNPerM: BIOFILM_TENSION_N_PER_M,
  };
  const perBed = Math.max(wetted * tower.media.specificSurfaceM2PerM3, 1);
  const area = conditions.films[filmOf.towers[t]].areaM2;
  // While stopped the film left on the media breathes through its own thickness.
  const velocity = running
    ? ondaLiquidCoefficientMPerS(packing, liquid, flow / planM2(tower), perBed, oxygen)
    : oxygen / FILM_WATER_M;
  at.o2TransferPerDay = (velocity * SECONDS_PER_DAY * area) / Math.max(volumeM3, 1e-6);
  at.co2TransferPerDay = at.o2TransferPerDay * Math.sqrt(diffusivityM2PerS("carbonDioxide", at.temperatureC, salt) / oxygen);
  at.captureShare = tower.prefilter ? PAD_CAPTURE[tower.prefilter.grade] * (1 - upkeep.blinded[t]) : MEDIA_CAPTURE;
  at.settlingPerDay = 0;
  const air = {
    planAreaM2: planM2(tower),
    heightM: tower.mediaDepthM + 0.1,
    lid: upkeep.lid[t],
    forcedM3PerS: upkeep.dark ? 0 : tower.airFlowM3PerS,
  };
  const room = {
    temperatureC: rig.room.temperatureC,
    relativeHumidity: rig.room.relativeHumidity,
    pressurePa: airPressurePa(rig.room.altitudeM),
  };
  const gas = conditions.gas[t];
  gas.volumeM3 = bed * tower.media.voidShare + planM2(tower) * 0.05;
  const airM3PerDay = towerAirExchangeM3PerS(air, at.temperatureC, room) * SECONDS_PER_DAY;
  gas.exchangePerDay = airM3PerDay / gas.volumeM3;
  const airMolPerM3 = room.pressurePa / (GAS_CONSTANT * (at.temperatureC + ZERO_CELSIUS_K));
  gas.roomO2GPerM3 = O2_IN_AIR * airMolPerM3 * OXYGEN_GAS_G_PER_MOL;
  gas.roomCo2MolPerM3 = rig.room.co2Share * airMolPerM3;
  // Ammonia dissolves so well that the passing air, not the surface, sets what it can carry away.
  const byAir = airM3PerDay * NH3_HENRY;
  const bySurface = NH3_VELOCITY_M_PER_DAY * area;
  at.nh3TransferPerDay = (byAir * bySurface) / (byAir + bySurface) / Math.max(volumeM3, 1e-6);
}

/** Wetted area of every film now [m2]. */
export function wettedAreas(aquarium: Aquarium, upkeep: Upkeep): number[] {
  const { rig, husbandry, exchange, towerCells, filmOf, surfaceM2 } = aquarium;
  const areas = [...surfaceM2];
  rig.towers.forEach((tower, t) => {
    // A blinded pad starves the media of flow but leaves them moist, so the film keeps its place.
    const flow = inflow(exchange, towerCells[t]) / SECONDS_PER_DAY;
    areas[filmOf.towers[t]] = Math.max(
      1e-4,
      surfaceM2[filmOf.towers[t]] * wettedShareOf(tower, rig, husbandry, Math.max(flow, 1e-7), upkeep.wettedShare[t]),
    );
  });
  return areas;
}
