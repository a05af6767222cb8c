// Invented tanks at rest, for the tests of outages: the water that remains in each part after the levels have settled.

import type { PlannedCut } from "../../../models/nitrogen/operation/outage-record.ts";
import type { OutageOptions } from "../../../models/nitrogen/operation/power-cut.ts";
import {
  type BiofilmStock,
  type PlannedModel,
  runSimulation,
  type StopAndStart,
} from "../../../models/nitrogen/simulation/simulation.ts";
import { inoculatedStock, matureStock } from "../../../models/nitrogen/tank/biofilm-stock.ts";
import { buildNitrogenModel } from "../../../models/nitrogen/tank/nitrogen-model.ts";
import { type AtRest, type Cut, wettedShares } from "../../../models/outage/cut.ts";
import { type OutageTrial, runTrial, trialStart } from "../../../models/outage/outage-trial.ts";
import { outageHeat } from "../../../models/outage/temperature.ts";
import { group, type TankOptions, tank } from "../nitrogen/cases.ts";

export const plainCut: Cut = {
  hours: 36,
  pumpStuckHours: 0,
  everythingOff: true,
  batteryAir: false,
  stirEveryHours: null,
  mistEveryHours: null,
  room: null,
  towerOpen: false,
  fedMeanwhile: false,
  closedFilter: "restarted",
};

export const powerCut = (day: number, more: Partial<Cut> = {}): PlannedCut => ({
  ...plainCut,
  ...more,
  kind: "power cut",
  day,
  label: "power cut",
});

/** Shares of the tower's and the display's water that drain into the sump when the pump stops. */
const DRAINS = { display: 0.05, tower: 0.8 } as const;

/** A hand-made transfer: the water that drains when the pump stops, and returns when it restarts. */
export function stopOf(aquarium: PlannedModel): StopAndStart {
  const running = aquarium.exchange.volumesM3;
  const [display, tower, sump, ...closed] = running;
  const down = [display * DRAINS.display, tower * DRAINS.tower];
  const rest = [display - down[0], tower - down[1], sump + down[0] + down[1]];
  // Closed filters keep their water.
  const still = closed.map((_, i) => [0, 0, 0, ...closed.map((__, j) => Number(i === j))]);
  const row = (...shares: number[]) => [...shares, ...closed.map(() => 0)];
  return {
    stopShare: [
      row(1 - DRAINS.display, 0, 0),
      row(0, 1 - DRAINS.tower, 0),
      row(DRAINS.display, DRAINS.tower, 1),
      ...still,
      row(0, 0, 0),
    ],
    restVolumesM3: [...rest, ...closed],
    startShare: [row(1, 0, down[0] / rest[2]), row(0, 1, down[1] / rest[2]), row(0, 0, sump / rest[2]), ...still, row(0, 0, 0)],
    runningVolumesM3: running,
  };
}

/** The same tank with a closed filter of 6 L on its display. */
export function withClosedFilter({ rig, management, cells, exchange, parameters }: PlannedModel): PlannedModel {
  const media = { kind: "foam 20 ppi", volumeM3: 0.004, specificSurfaceM2PerM3: 1100, voidShare: 0.97, pieceM: 0.0013 };
  const filter = { id: "canister", on: "display", waterM3: 0.006, media, flowM3PerS: 1.2e-4, powerW: 12, intakeDepthM: 0.3 };
  const perDay = filter.flowM3PerS * 86400;
  return buildNitrogenModel(
    { ...rig, closedFilters: [filter] },
    management,
    [...cells, { id: "canister", name: "canister", kind: "closed filter", partOf: "canister" }],
    {
      volumesM3: [...exchange.volumesM3, filter.waterM3],
      flows: [
        ...exchange.flows,
        { from: 0, to: cells.length, m3PerDay: perDay },
        { from: cells.length, to: 0, m3PerDay: perDay },
      ],
    },
    parameters,
  );
}

/** An aquarium of `tank` at rest. `offLevelM` is the level in the sump; the tower of the cases stands on a grate at 250 mm. */
export function restOfTank(aquarium: PlannedModel, offLevelM = 0.24): AtRest {
  const { rig, management, cells, exchange } = aquarium;
  return {
    rig,
    management,
    cells,
    volumesM3: stopOf(aquarium).restVolumesM3,
    chamberLevelZ: Object.fromEntries(rig.sump.chambers.map((chamber) => [chamber.id, offLevelM])),
    wettedShare: wettedShares(rig, management, cells, exchange),
  };
}

/** A tank with a given mass of fish [kg]. */
export function tankWithFish(
  litres: number,
  kilograms: number,
  foodGPerDay: number,
  fishG: number,
  more: TankOptions = {},
): PlannedModel {
  const fish = group(foodGPerDay, { count: Math.round((1000 * kilograms) / fishG), massG: fishG });
  return tank({ litres, groups: [fish], seed: 1, ...more });
}

/** The mature biofilm of a tank. */
export const settled = (aquarium: PlannedModel): BiofilmStock =>
  inoculatedStock(aquarium, matureStock(aquarium), 1, "everywhere");

/** Hand-made stop and restart, and the heat balance, of an aquarium of `tank`. */
export const outageOf = (aquarium: PlannedModel, rest = restOfTank(aquarium)): OutageOptions => ({
  stop: stopOf(aquarium),
  outageHeat: outageHeat(rest, aquarium.exchange),
});

/**
 * Days after which a tank fed at 9 and 18 h is in the evening, an hour after its meal; and late at night, with its
 * animals at rest.
 */
export const JUST_FED = 0.8;
export const AT_NIGHT = 1.1;

/** A trial of an outage from the end of an aquarium's run. */
export function runTrials(
  aquarium: PlannedModel,
  cut: Cut,
  rest = restOfTank(aquarium),
): { readonly rest: AtRest; readonly tried: OutageTrial } {
  const run = runSimulation(aquarium, { outputsPerDay: 4, relative: 1e-3, begin: settled(aquarium), stop: null });
  return { rest, tried: runTrial(aquarium, trialStart(run), cut, outageOf(aquarium, rest)) };
}
