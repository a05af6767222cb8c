// The nitrogen model of a rig: its cells and films, and the paths of water between them. It is constant during a run.

import { pow } from "../../../sim/elementary.ts";
import { SECONDS_PER_DAY } from "../../../sim/time.ts";
import type { Exchange, WaterCell } from "../../coupling/exchange.ts";
import { displayPlanM2, type Rig } from "../../rig.ts";
import { floodedBedCoefficientMPerS, openSurfaceCoefficientMPerS, wallCoefficientMPerS } from "../../tower/mass-transfer.ts";
import { mediaType } from "../../tower/media.ts";
import { wettingUncertaintyFactor } from "../../tower/wetting.ts";
import { diffusivityM2PerS } from "../../water/diffusivity.ts";
import { liquidAt } from "../../water/liquid.ts";
import type { ParameterValues } from "../kinetics/parameters.ts";
import type { Management } from "../management.ts";
import { StateLayout } from "../reactor/state-layout.ts";
import type { FilmSpec, StreamSpec } from "../reactor/wiring.ts";
import { planM2, wettedShareOf } from "./wetting.ts";

/** Film thickness on media and other surfaces [m]: 200-400 µm is usual for nitrifying films (modelling assumption). */
const FILM_M = 1e-4;
/** Water in and on the film [m]: its pores and the layer that moves with it (modelling assumption). */
const FILM_WATER_M = 3e-4;
/** Velocity of the water along glass and rock [m/s], and length of the surface [m] (modelling assumption). */
const DISPLAY_SPEED_M_PER_S = 0.02;
const DISPLAY_SURFACE_LENGTH_M = 0.3;
/** For the velocity inside it, a closed filter is assumed to be as tall as it is wide (modelling assumption). */
const closedPlanM2 = (waterM3: number): number => pow(waterM3, 2 / 3);
/** Smallest hydraulic load for which the mass transfer of a tower is computed [m/s]. */
const LEAST_LOAD_M_PER_S = 1e-5;

/** @typeParam M what is known of the management; a run needs a complete plan with its events */
export interface NitrogenModel<M extends Management = Management> {
  readonly rig: Rig;
  readonly management: M;
  readonly cells: readonly WaterCell[];
  readonly exchange: Exchange;
  readonly parameters: ParameterValues;
  /** Layout of the state vector; its `wiring` gives the connections. */
  readonly layout: StateLayout;
  /** Cell index of each display, tower, sump chamber and closed filter. */
  readonly displayCells: readonly number[];
  readonly towerCells: readonly number[];
  readonly chamberCells: readonly number[];
  readonly closedCells: readonly number[];
  /** Total surface of each film, wetted or not [m²]. */
  readonly surfaceM2: readonly number[];
  readonly filmOf: {
    readonly towers: readonly number[];
    readonly submerged: readonly number[];
    readonly displays: readonly number[];
    readonly closed: readonly number[];
  };
  /** Uncertainty factor of each tower's wetted share. */
  readonly wettingUncertainty: readonly number[];
}

/** Flow into a cell while running [m³/s]. */
export const runningInflowM3PerS = (exchange: Exchange, cell: number): number =>
  exchange.flows.reduce((sum, flow) => sum + (flow.to === cell ? flow.m3PerDay : 0), 0) / SECONDS_PER_DAY;

/** Index of the cell of a part. @throws Error when the part has none */
export function cellOf(cells: readonly WaterCell[], kind: WaterCell["kind"], id: string): number {
  const index = cells.findIndex((cell) => cell.kind === kind && cell.partOf === id);
  if (index < 0) throw new Error(`no water cell for the ${kind} ${id}`);
  return index;
}

/** Streams of the hydraulic model, and past the media: a stream without flow until a pad clogs. */
function waysOf(rig: Rig, cells: readonly WaterCell[], exchange: Exchange, towerCells: readonly number[]): StreamSpec[] {
  const ways: StreamSpec[] = [];
  const way = (from: number, to: number): void => {
    if (from !== to && !ways.some((w) => w.from === from && w.to === to)) ways.push({ from, to });
  };
  for (const { from, to } of exchange.flows) way(from, to);
  rig.towers.forEach((tower, t) => {
    for (const { from, to } of exchange.flows) if (to === towerCells[t]) way(from, cellOf(cells, "chamber", tower.drainsTo));
  });
  return ways;
}

/** Builds cells and films for a rig; volumes and flows come from the hydraulic model. @throws Error when a part has no cell */
export function buildNitrogenModel<M extends Management>(
  rig: Rig,
  management: M,
  cells: readonly WaterCell[],
  exchange: Exchange,
  parameters: ParameterValues,
): NitrogenModel<M> {
  const displayCells = rig.displays.map((display) => cellOf(cells, "display", display.id));
  const towerCells = rig.towers.map((tower) => cellOf(cells, "tower", tower.id));
  const chamberCells = rig.sump.chambers.map((chamber) => cellOf(cells, "chamber", chamber.id));
  const closedCells = rig.closedFilters.map((filter) => cellOf(cells, "closed filter", filter.id));
  const films: FilmSpec[] = [];
  const surfaceM2: number[] = [];
  const add = (id: string, name: string, cell: number, areaM2: number, coefficientMPerS: number): number => {
    const d = diffusivityM2PerS("ammonium", management.temperatureC, 0);
    films.push({ id, name, cell, filmM: FILM_M, waterM: FILM_WATER_M, boundaryM: d / coefficientMPerS });
    return surfaceM2.push(areaM2) - 1;
  };
  const liquid = liquidAt(management.temperatureC, rig.salinityGPerKg);
  const ammonium = diffusivityM2PerS("ammonium", management.temperatureC, rig.salinityGPerKg);
  const loads = rig.towers.map((tower, t) =>
    Math.max(runningInflowM3PerS(exchange, towerCells[t]) / planM2(tower), LEAST_LOAD_M_PER_S),
  );
  const towers = rig.towers.map((tower, t) => {
    const wetted = wettedShareOf(tower, rig, management, runningInflowM3PerS(exchange, towerCells[t]), null);
    const wettedM2PerM3 = wetted * tower.media.specificSurfaceM2PerM3;
    return add(
      `${tower.id} media`,
      rig.towers.length > 1 ? `media of ${tower.id}` : "tower media",
      towerCells[t],
      tower.media.specificSurfaceM2PerM3 * planM2(tower) * tower.mediaDepthM,
      wallCoefficientMPerS(liquid, loads[t], wettedM2PerM3, tower.media.pieceM, ammonium),
    );
  });
  const submerged = rig.sump.chambers.flatMap((chamber) => {
    const media = chamber.submergedMedia;
    if (!media || media.volumeM3 <= 0) return [];
    const cell = cellOf(cells, "chamber", chamber.id);
    const piece = mediaType(media.kind)?.pieceM ?? 0.02;
    const speed = runningInflowM3PerS(exchange, cell) / (chamber.lengthM * rig.sump.widthM);
    return add(
      `${chamber.id} media`,
      `submerged media in the ${chamber.role} chamber`,
      cell,
      media.volumeM3 * media.specificSurfaceM2PerM3,
      floodedBedCoefficientMPerS(speed, piece, media.voidShare, ammonium),
    );
  });
  const plan = rig.displays.reduce((sum, display) => sum + displayPlanM2(display), 0);
  const displays = rig.displays.map((display, d) =>
    add(
      `${display.id} surfaces`,
      rig.displays.length > 1 ? `glass, rock and gravel of ${display.name}` : "glass, rock and gravel",
      displayCells[d],
      management.surfaces.displayM2 * (displayPlanM2(display) / plan),
      openSurfaceCoefficientMPerS(liquid, DISPLAY_SPEED_M_PER_S, DISPLAY_SURFACE_LENGTH_M, ammonium),
    ),
  );
  const closed = rig.closedFilters.map(({ id, waterM3, media, flowM3PerS }, n) =>
    add(
      `${id} media`,
      `media of ${id}`,
      closedCells[n],
      media.volumeM3 * media.specificSurfaceM2PerM3,
      floodedBedCoefficientMPerS(flowM3PerS / closedPlanM2(waterM3), media.pieceM, media.voidShare, ammonium),
    ),
  );
  const layout = new StateLayout({
    cells: cells.map(({ id, name }) => ({ id, name })),
    films,
    ways: waysOf(rig, cells, exchange, towerCells),
    gasCells: towerCells,
    guts: [
      { id: "the animals", cells: displayCells },
      { id: "the dead", cells: displayCells.slice(0, 1) },
    ],
  });
  return {
    rig,
    management,
    cells,
    exchange,
    parameters,
    layout,
    displayCells,
    towerCells,
    chamberCells,
    closedCells,
    surfaceM2,
    filmOf: { towers, submerged, displays, closed },
    wettingUncertainty: loads.map(wettingUncertaintyFactor),
  };
}
