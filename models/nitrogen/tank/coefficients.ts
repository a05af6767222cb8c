// The conditions of a running, stopped or half-blinded system: flows, volumes, and what each body of water exchanges with the air.
import type { WaterCell } from "../../coupling/exchange.ts";
import { STILL_SURFACE_K600_M_PER_DAY, stirredK600MPerDay, surfaceVelocityMPerDay } from "../../gas/surface-exchange.ts";
import { gamesonDeficitRatio, waterQualityFactor } from "../../gas/weir-aeration.ts";
import { restingOxygenGPerDay } from "../../life/respiration.ts";
import { displayPlanM2, type Rig } from "../../rig.ts";
import { carbonateConstants, co2PartialPressureAtm } from "../../water/carbonate.ts";
import { diffusivityM2PerS } from "../../water/diffusivity.ts";
import { oxygenSaturationGPerM3 } from "../../water/oxygen.ts";
import { airPressurePa } from "../../water/pressure.ts";
import { cellOf, type NitrogenModel } from "./nitrogen-model.ts";
import type { OperatingState } from "./operating-state.ts";
import { NH3_VELOCITY_M_PER_DAY, setTowerConditions } from "./tower-coefficients.ts";

const HOURS_PER_DAY = 24;
/**
 * Fall speed of waste [m/d]. Settling basins of fish farms catch about 60 % at a load of 60 m/d (Timmons & Ebeling, from memory); a stirred one
 * catches v/(v + load), hence 90. Other chambers and displays are stirred up again (modelling assumption).
 */
const SETTLING_M_PER_DAY = { settling: 90, other: 5, display: 1 } as const;
/** Share of the suspended waste that the media of a closed filter hold back per pass: as a medium pad (modelling assumption). */
const CLOSED_CAPTURE = 0.5;
/** Height that water falls into a chamber [m] (modelling assumption). */
const FALL_M = 0.1;

/** Writes all conditions of the system for the present upkeep and volumes, but for the films' wetted areas (see `wettedAreas`). */
export function applyOperatingState(aquarium: NitrogenModel, operating: OperatingState, volumesM3: readonly number[]): void {
  const { rig, cells, exchange, system, displayCells } = aquarium;
  const { conditions } = system;
  conditions.salinityGPerKg = operating.salinityGPerKg;
  conditions.flows.set(runningFlows(aquarium, operating));
  const total = volumesM3.reduce((sum, v) => sum + v, 0);
  const pumped = exchange.flows.filter((flow) => displayCells.includes(flow.to)).reduce((sum, flow) => sum + flow.m3PerDay, 0);
  const turnoversPerHour = operating.running ? pumped / total / HOURS_PER_DAY : 0;
  cells.forEach((cell, c) => {
    setWater(aquarium, operating, c, volumesM3[c]);
    if (cell.kind === "closed filter") setClosed(aquarium, c);
    else if (cell.kind !== "tower") setOpenSurface(aquarium, operating, c, turnoversPerHour);
  });
  setLife(aquarium, operating);
  for (const t of rig.towers.keys()) setTowerConditions(aquarium, operating, t, volumesM3[aquarium.towerCells[t]]);
  for (const film of conditions.films) {
    film.aobActivity = operating.aobActivity;
    film.nobActivity = operating.nobActivity;
  }
  system.refresh();
}

/** Volume, temperature and saturation of a cell; everything else at nothing. */
function setWater({ rig, system }: NitrogenModel, operating: OperatingState, c: number, volumeM3: number): void {
  const pressure = airPressurePa(rig.room.altitudeM);
  const salt = operating.salinityGPerKg;
  const temperatureC = operating.temperatureC[c];
  Object.assign(system.conditions.cells[c], {
    volumeM3,
    temperatureC,
    captureShare: 0,
    respirationGPerM3Day: 0,
    excretionGNPerM3Day: 0,
    plantUptakeGNPerM3Day: 0,
    o2SaturationGPerM3: oxygenSaturationGPerM3(temperatureC, salt, pressure),
    co2SaturationMolPerM3:
      carbonateConstants(temperatureC, salt).k0 * co2PartialPressureAtm(rig.room.co2Share, pressure, temperatureC, salt),
  });
}

/** A closed filter has no air over its water, and its media hold dirt back as a pad does. */
function setClosed({ system }: NitrogenModel, c: number): void {
  Object.assign(system.conditions.cells[c], {
    o2TransferPerDay: 0,
    co2TransferPerDay: 0,
    nh3TransferPerDay: 0,
    settlingPerDay: 0,
    captureShare: CLOSED_CAPTURE,
  });
}

/** Open surface of a display or chamber [m2]. */
function openSurfaceM2(rig: Rig, cell: WaterCell): number {
  const display = rig.displays.find((d) => cell.kind === "display" && d.id === cell.partOf);
  if (display) return displayPlanM2(display);
  const chamber = rig.sump.chambers.find((ch) => cell.kind === "chamber" && ch.id === cell.partOf);
  return (chamber?.lengthM ?? 0) * rig.sump.widthM;
}

/** Exchange through an open surface, by an air stone and by falling water; and settling. */
function setOpenSurface(aquarium: NitrogenModel, operating: OperatingState, c: number, turnoversPerHour: number): void {
  const { rig, management, cells, system } = aquarium;
  const cell = cells[c];
  const at = system.conditions.cells[c];
  const { volumeM3, temperatureC } = at;
  const salt = operating.salinityGPerKg;
  const surface = openSurfaceM2(rig, cell);
  const k600 =
    operating.running && turnoversPerHour > 0
      ? stirredK600MPerDay(turnoversPerHour)
      : operating.stillSurfaceFactor * STILL_SURFACE_K600_M_PER_DAY;
  const added = cell.kind === "display" ? (operating.dark ? 0 : management.airStonePerDay) + operating.batteryAirPerDay : 0;
  const fall = cell.kind === "chamber" && operating.running ? fallTransferPerDay(aquarium, c) : 0;
  const own = (surface / volumeM3) * surfaceVelocityMPerDay("oxygen", temperatureC, salt, k600);
  at.o2TransferPerDay = own + added + fall;
  at.co2TransferPerDay =
    (own + added + fall) *
    Math.sqrt(diffusivityM2PerS("carbonDioxide", temperatureC, salt) / diffusivityM2PerS("oxygen", temperatureC, salt));
  at.nh3TransferPerDay = (surface / volumeM3) * NH3_VELOCITY_M_PER_DAY;
  at.settlingPerDay = SETTLING_M_PER_DAY[settlingKind(rig, cell)] / Math.max(volumeM3 / surface, 0.02);
}

function settlingKind(rig: Rig, cell: WaterCell): keyof typeof SETTLING_M_PER_DAY {
  if (cell.kind === "display") return "display";
  const chamber = rig.sump.chambers.find((ch) => cell.kind === "chamber" && ch.id === cell.partOf);
  return chamber?.role === "settling" ? "settling" : "other";
}

/** Oxygen picked up by water falling from drain or tower into a chamber, as a transfer coefficient of the chamber [1/d]. */
function fallTransferPerDay({ system, cells }: NitrogenModel, chamber: number): number {
  const { volumeM3, temperatureC } = system.conditions.cells[chamber];
  const ratio = gamesonDeficitRatio(FALL_M, temperatureC, waterQualityFactor(0), 1);
  let sum = 0;
  system.wiring.ways.forEach((w, i) => {
    if (w.to === chamber && cells[w.from].kind !== "chamber") sum += (system.conditions.flows[i] * (1 - 1 / ratio)) / volumeM3;
  });
  return sum;
}

/** Animals and plants are in all displays alike, by their water (modelling assumption); the foam fractionator is in the last chamber. */
function setLife({ rig, management, cells, system, displayCells }: NitrogenModel, operating: OperatingState): void {
  const { conditions } = system;
  const displaysM3 = displayCells.reduce((sum, c) => sum + conditions.cells[c].volumeM3, 0);
  for (const c of displayCells) {
    const at = conditions.cells[c];
    for (const group of operating.groups)
      at.respirationGPerM3Day +=
        (group.count * restingOxygenGPerDay(group.massG, at.temperatureC) * operating.useOverResting) / displaysM3;
    at.excretionGNPerM3Day = operating.fastingGNPerDay / displaysM3;
    at.plantUptakeGNPerM3Day = operating.plantUptakeGNPerDay / displaysM3;
  }
  const last = conditions.cells[cellOf(cells, "chamber", rig.sump.chambers[rig.sump.chambers.length - 1].id)];
  const { foamFractionator } = management;
  last.skimmingPerDay =
    foamFractionator && operating.running ? (foamFractionator.flowM3PerDay * foamFractionator.removalShare) / last.volumeM3 : 0;
}

/**
 * Flow of every way [m3/d]: the hydraulic ones, with what a blinded pad sends past the media, none while stopped; and those of closed filters,
 * which have pumps of their own.
 */
function runningFlows(
  { rig, exchange, system, towerCells, closedCells, cells }: NitrogenModel,
  operating: OperatingState,
): number[] {
  const { ways } = system.wiring;
  const flows = ways.map(() => 0);
  const at = (from: number, to: number) => ways.findIndex((w) => w.from === from && w.to === to);
  for (const flow of exchange.flows) {
    const n = closedCells.findIndex((c) => c === flow.from || c === flow.to);
    const runs = n < 0 ? operating.running : !operating.dark && !operating.closedOff[n];
    if (runs) flows[at(flow.from, flow.to)] += flow.m3PerDay;
  }
  if (!operating.running) return flows;
  rig.towers.forEach((tower, t) => {
    // Water that spills from the pan onto the media all the same only misses the pad.
    const spills = tower.prefilter?.spillsTo === "media" ? 0 : operating.blinded[t];
    if (spills === 0) return;
    const chamber = cellOf(cells, "chamber", tower.drainsTo);
    let spilled = 0;
    ways.forEach((w, i) => {
      if (w.to !== towerCells[t]) return;
      const past = flows[i] * spills;
      flows[i] -= past;
      flows[at(w.from, chamber)] += past;
      spilled += past;
    });
    flows[at(towerCells[t], chamber)] -= spilled;
  });
  return flows;
}
