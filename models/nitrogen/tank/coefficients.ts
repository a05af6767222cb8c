// The coefficients of a running, stopped or partly clogged system: flows, volumes, and the exchange of each cell with the air.
import { HOURS_PER_DAY } from "../../../sim/time.ts";
import type { WaterCell } from "../../coupling/exchange.ts";
import { STILL_SURFACE_K600_M_PER_DAY, stirredK600MPerDay, surfaceVelocityMPerDay } from "../../gas/surface-exchange.ts";
import { gamesonDeficitRatio, waterQualityFactor } from "../../gas/weir-aeration.ts";
import { USE_OVER_FISH } from "../../life/animals.ts";
import { ammoniaShare, carcassDecayPerDay, FAECES_SHARE, gutStageRatePerDay } from "../../life/excretion.ts";
import { restingOxygenGPerDay } from "../../life/respiration.ts";
import { displayPlanM2, type Rig } from "../../rig.ts";
import { carbonateConstants, co2PartialPressureAtm } from "../../water/carbonate.ts";
import { diffusivityM2PerS } from "../../water/diffusivity.ts";
import { oxygenSaturationGPerM3 } from "../../water/oxygen.ts";
import { airPressurePa } from "../../water/pressure.ts";
import type { CellCoefficients, Coefficients } from "../reactor/coefficients.ts";
import { NitrogenSystem } from "../reactor/system.ts";
import { retainedByGrowth } from "./food-nitrogen.ts";
import { cellOf, type NitrogenModel } from "./nitrogen-model.ts";
import { type OperatingState, wettedAreas } from "./operating-state.ts";
import { NH3_VELOCITY_M_PER_DAY, towerCoefficients } from "./tower-coefficients.ts";

/**
 * Settling velocity of waste [m/d]. Settling basins of fish farms retain about 60 % at a surface load of 60 m/d
 * (Timmons & Ebeling, from memory); a mixed one retains v/(v + load), hence 90. Other chambers and displays resuspend
 * it (modelling assumption).
 */
const SETTLING_M_PER_DAY = { settling: 90, other: 5, display: 1 } as const;
/**
 * Share of the suspended waste that the media of a closed filter retain per pass, as a medium pad does (modelling
 * assumption).
 */
const CLOSED_CAPTURE = 0.5;
/** Share of a dead animal's nitrogen that is released as ammonia; the rest becomes waste (modelling assumption). */
const CARCASS_TAN_SHARE = 0.3;
/** Fall height of water into a chamber [m] (modelling assumption). */
const FALL_M = 0.1;

/** The coefficients of the equations for a rig in an operating state. A pure function. */
export function coefficients(aquarium: NitrogenModel, operating: OperatingState): Coefficients {
  const { rig, cells, towerCells, filmOf } = aquarium;
  const flows = runningFlows(aquarium, operating);
  const areasM2 = wettedAreas(aquarium, operating);
  const { volumesM3, salinityGPerKg, adjustments } = operating;
  const still = cells.map((_, c) => stillWater(aquarium, operating, c, volumesM3[c]));
  const towers = rig.towers.map((_, t) =>
    towerCoefficients(aquarium, operating, t, flows, areasM2[filmOf.towers[t]], volumesM3[towerCells[t]]),
  );
  const stirring = turnoversPerHour(aquarium, operating);
  const of = (cell: WaterCell, c: number): Partial<CellCoefficients> => {
    if (cell.kind === "closed filter") return { captureShare: CLOSED_CAPTURE };
    if (cell.kind === "tower") return towers[towerCells.indexOf(c)].cell;
    return openSurface(aquarium, operating, c, still[c], flows, stirring);
  };
  const plain: Coefficients = {
    cells: cells.map((cell, c) => ({
      ...still[c],
      ...of(cell, c),
      ...inhabitants(aquarium, operating, c, volumesM3),
      skimmingPerDay: skimmingPerDay(aquarium, operating, c, volumesM3[c]),
    })),
    films: areasM2.map((areaM2) => ({ areaM2, aobActivity: 1, nobActivity: 1 })),
    gas: towers.map(({ gas }) => gas),
    flows: Float64Array.from(flows),
    salinityGPerKg,
    guts: guts(aquarium, operating),
  };
  return Object.values(adjustments).reduce((now, adjust) => adjust(now, aquarium), plain);
}

/** The equations of a rig in an operating state, for a query about one time of a run. */
export const systemAt = (aquarium: NitrogenModel, operating: OperatingState): NitrogenSystem =>
  new NitrogenSystem(aquarium.layout.wiring, aquarium.parameters, coefficients(aquarium, operating));

/** A cell of a given volume without animals and without air contact, as in a closed filter. */
function stillWater({ rig }: NitrogenModel, operating: OperatingState, c: number, volumeM3: number): CellCoefficients {
  const pressure = airPressurePa(rig.room.altitudeM);
  const salt = operating.salinityGPerKg;
  const temperatureC = operating.temperatureC[c];
  return {
    volumeM3,
    temperatureC,
    o2TransferPerDay: 0,
    co2TransferPerDay: 0,
    nh3TransferPerDay: 0,
    o2SaturationGPerM3: oxygenSaturationGPerM3(temperatureC, salt, pressure),
    co2SaturationMolPerM3:
      carbonateConstants(temperatureC, salt).k0 * co2PartialPressureAtm(rig.room.co2Share, pressure, temperatureC, salt),
    respirationGPerM3Day: 0,
    excretionGNPerM3Day: 0,
    plantUptakeGNPerM3Day: 0,
    settlingPerDay: 0,
    skimmingPerDay: 0,
    captureShare: 0,
  };
}

/** Turnovers of all the water per hour by the return pump; 0 while it is stopped. */
function turnoversPerHour({ exchange, displayCells }: NitrogenModel, { running, volumesM3 }: OperatingState): number {
  if (!running) return 0;
  const total = volumesM3.reduce((sum, v) => sum + v, 0);
  const pumped = exchange.flows.filter((flow) => displayCells.includes(flow.to)).reduce((sum, flow) => sum + flow.m3PerDay, 0);
  return pumped / total / HOURS_PER_DAY;
}

/** Open surface of a display or chamber [m²]. */
function openSurfaceM2(rig: Rig, cell: WaterCell): number {
  const display = rig.displays.find((d) => cell.kind === "display" && d.id === cell.partOf);
  if (display) return displayPlanM2(display);
  const chamber = rig.sump.chambers.find((ch) => cell.kind === "chamber" && ch.id === cell.partOf);
  return (chamber?.lengthM ?? 0) * rig.sump.widthM;
}

/** Gas transfer through an open surface, by an air stone and by falling water; and settling. */
function openSurface(
  aquarium: NitrogenModel,
  operating: OperatingState,
  c: number,
  { volumeM3, temperatureC }: CellCoefficients,
  flows: readonly number[],
  stirring: number,
): Partial<CellCoefficients> {
  const { rig, cells } = aquarium;
  const cell = cells[c];
  const salt = operating.salinityGPerKg;
  const surface = openSurfaceM2(rig, cell);
  const k600 =
    operating.running && stirring > 0
      ? stirredK600MPerDay(stirring)
      : operating.stillSurfaceFactor * STILL_SURFACE_K600_M_PER_DAY;
  const added = cell.kind === "display" ? (operating.dark ? 0 : operating.airStonePerDay) + operating.batteryAirPerDay : 0;
  const fall = cell.kind === "chamber" && operating.running ? fallTransferPerDay(aquarium, c, volumeM3, temperatureC, flows) : 0;
  const own = (surface / volumeM3) * surfaceVelocityMPerDay("oxygen", temperatureC, salt, k600);
  return {
    o2TransferPerDay: own + added + fall,
    co2TransferPerDay:
      (own + added + fall) *
      Math.sqrt(diffusivityM2PerS("carbonDioxide", temperatureC, salt) / diffusivityM2PerS("oxygen", temperatureC, salt)),
    nh3TransferPerDay: (surface / volumeM3) * NH3_VELOCITY_M_PER_DAY,
    settlingPerDay: SETTLING_M_PER_DAY[settlingKind(rig, cell)] / Math.max(volumeM3 / surface, 0.02),
  };
}

function settlingKind(rig: Rig, cell: WaterCell): keyof typeof SETTLING_M_PER_DAY {
  if (cell.kind === "display") return "display";
  const chamber = rig.sump.chambers.find((ch) => cell.kind === "chamber" && ch.id === cell.partOf);
  return chamber?.role === "settling" ? "settling" : "other";
}

/** Oxygen transfer of water that falls from a drain or tower into a chamber, as a transfer coefficient of the chamber [1/d]. */
function fallTransferPerDay(
  { layout, cells }: NitrogenModel,
  chamber: number,
  volumeM3: number,
  temperatureC: number,
  flows: readonly number[],
): number {
  const ratio = gamesonDeficitRatio(FALL_M, temperatureC, waterQualityFactor(0), 1);
  let sum = 0;
  layout.wiring.ways.forEach((w, i) => {
    if (w.to === chamber && cells[w.from].kind !== "chamber") sum += (flows[i] * (1 - 1 / ratio)) / volumeM3;
  });
  return sum;
}

/** Animals and plants are in all displays, in proportion to volume (modelling assumption). */
function inhabitants(
  { displayCells }: NitrogenModel,
  operating: OperatingState,
  c: number,
  volumesM3: readonly number[],
): Partial<CellCoefficients> {
  if (!displayCells.includes(c)) return {};
  const displaysM3 = displayCells.reduce((sum, d) => sum + volumesM3[d], 0);
  let respirationGPerM3Day = 0;
  for (const group of operating.groups)
    respirationGPerM3Day +=
      (group.count *
        USE_OVER_FISH[group.kind] *
        restingOxygenGPerDay(group.massG, operating.temperatureC[c]) *
        operating.useOverResting) /
      displaysM3;
  return {
    respirationGPerM3Day,
    excretionGNPerM3Day: operating.fastingGNPerDay / displaysM3,
    plantUptakeGNPerM3Day: operating.plantUptakeGNPerDay / displaysM3,
  };
}

/** The foam fractionator works in the last chamber, while the pump runs. */
function skimmingPerDay(
  { rig, management, cells }: NitrogenModel,
  { running }: OperatingState,
  c: number,
  volumeM3: number,
): number {
  const { foamFractionator } = management;
  const last = rig.sump.chambers[rig.sump.chambers.length - 1].id;
  if (!foamFractionator || !running || c !== cellOf(cells, "chamber", last)) return 0;
  return (foamFractionator.flowM3PerDay * foamFractionator.removalShare) / volumeM3;
}

/** Guts of the animals; a dead animal has its own. */
function guts({ displayCells }: NitrogenModel, { temperatureC, evenFeeding, groups }: OperatingState): Coefficients["guts"] {
  const displayC = temperatureC[displayCells[0]];
  return [
    {
      ratePerDay: gutStageRatePerDay(displayC),
      tanShare: ammoniaShare(retainedByGrowth(groups)),
      wasteShare: FAECES_SHARE,
      ...evenFeeding,
    },
    {
      ratePerDay: carcassDecayPerDay(displayC),
      tanShare: CARCASS_TAN_SHARE,
      wasteShare: 1 - CARCASS_TAN_SHARE,
      eatenGNPerDay: 0,
      uneatenGNPerDay: 0,
    },
  ];
}

/**
 * Flow of each stream [m³/d]: those of the hydraulic model, minus what a clogged pad diverts past the media, and zero
 * while the pump is stopped; and those of closed filters, which have their own pumps.
 */
function runningFlows(
  { rig, exchange, layout, towerCells, closedCells, cells }: NitrogenModel,
  operating: OperatingState,
): number[] {
  const { ways } = layout.wiring;
  const flows = ways.map(() => 0);
  const at = (from: number, to: number) => ways.findIndex((w) => w.from === from && w.to === to);
  for (const flow of exchange.flows) {
    const n = closedCells.findIndex((c) => c === flow.from || c === flow.to);
    const runs = n < 0 ? operating.running : !operating.dark && !operating.closedOff[n];
    if (runs) flows[at(flow.from, flow.to)] += flow.m3PerDay;
  }
  if (!operating.running) return flows;
  rig.towers.forEach((tower, t) => {
    // Water that spills from the pan onto the media bypasses only the pad.
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
