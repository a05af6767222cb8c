// A power cut in the days of an aquarium: the water runs down, stands still, cools, and runs and warms up again.
import { type Case, FED_FOR_H, useOverResting } from "../life/respiration.ts";
import { batteryAirPerDay, pouringShare, SUPPLY_FACTOR } from "../outage/airSupply.ts";
import { displayPlanM2 } from "../rig.ts";
import { kill, moveWater } from "./actions.ts";
import { startClosedFilters } from "./closedFilter.ts";
import { CutRecord, stillHours } from "./cutRecord.ts";
import type { Keeping } from "./keeping.ts";
import type { PlanEvent } from "./plan.ts";

type PowerCutEvent = Extract<PlanEvent, { kind: "power cut" }>;

const HOURS_PER_DAY = 24;
/** Temperatures are followed in pieces of an hour or more, each at its own mean: as long as they change by less than this in one [K]. */
const PIECE_K = 0.3;
const LONGEST_PIECE_H = 8;
/** Warmed up again when all water is this near the set-point [K], or when it has had so long [h]. */
const WARM_WITHIN_K = 0.1;
const WARMING_H = 48;

/** What the hydraulic model says of one stop and restart: shares of each cell's water that end in each (last row: floor), and volumes. */
export interface StopAndStart {
  readonly stopShare: readonly (readonly number[])[];
  readonly restVolumesM3: readonly number[];
  readonly startShare: readonly (readonly number[])[];
  readonly runningVolumesM3: readonly number[];
}

/** Temperatures of all cells over the hours [°C]. */
export interface HeatCurve {
  at(hours: number): readonly number[];
}

/** What the heat balance says from given temperatures on. */
export interface OutageHeat {
  /** While nothing flows. */
  cooling(event: PowerCutEvent, startC: readonly number[], setpointC: number): HeatCurve;
  /** While everything runs again and the heater works. */
  warming(startC: readonly number[], setpointC: number): HeatCurve;
}

/** What a film went through in a cut. */
export interface FilmInCut {
  /** Hours in which the water of its cell held neither oxygen nor nitrate. */
  readonly foulHours: number;
  /** Oxygen it used when the water stopped [g/(m2 d)], and nitrate there was then [g N/m3]. */
  readonly o2GPerM2Day: number;
  readonly no3GPerM3: number;
}

export interface OutageOptions {
  readonly stop: StopAndStart | null;
  /** Temperatures stay as they are when absent. */
  readonly outageHeat?: OutageHeat;
  /** Share of nitrifiers lost by the end of an outage, per film, beyond what the process matrix itself computes. */
  readonly outageLoss?: (event: PowerCutEvent, film: number, seen: FilmInCut) => { aob: number; nob: number };
  /** How the animals' use and the still surface turn out: likely when absent; high is much use and little supply. */
  readonly outageCase?: Case;
}

/** Stops the pump now and puts down everything until water flows again. @param sinceMealH hours since the animals last ate */
export function powerCut(keeping: Keeping, options: OutageOptions, event: PowerCutEvent, sinceMealH: number): void {
  const { upkeep, moments } = keeping;
  const { stop, outageHeat: heat } = options;
  const dayAfter = (hours: number): number => event.day + hours / HOURS_PER_DAY;
  const which = options.outageCase ?? "likely";
  const fedForH = event.fedMeanwhile || !event.everythingOff ? Number.POSITIVE_INFINITY : FED_FOR_H - sinceMealH;
  const record = new CutRecord(keeping, event, keeping.snapshot(event.day));
  keeping.watched = record;
  keeping.cuts.push(record);
  keeping.change(() => {
    if (stop) move(keeping, stop.stopShare, stop.restVolumesM3);
    upkeep.running = false;
    upkeep.dark = event.everythingOff;
    upkeep.batteryAirPerDay = event.batteryAir ? batteryAirOf(keeping) : 0;
    upkeep.useOverResting = useOverResting(fedForH > 0 ? "active" : "quiet", which);
    upkeep.stillSurfaceFactor = SUPPLY_FACTOR[which];
  });
  if (fedForH > 0 && fedForH < event.hours)
    moments.at(dayAfter(fedForH), () =>
      keeping.change(() => {
        upkeep.useOverResting = useOverResting("quiet", which);
      }),
    );
  if (event.stirEveryHours !== null)
    for (let h = event.stirEveryHours; h < event.hours; h += event.stirEveryHours) moments.at(dayAfter(h), () => pour(keeping));
  if (heat) followHeat(keeping, record, heat.cooling(event, upkeep.temperatureC, upkeep.setpointC), event.day, event.hours);
  moments.at(dayAfter(event.hours), () => {
    powerBack(keeping, event);
    if (event.pumpStuckHours === 0) return;
    keeping.mark(dayAfter(event.hours), "pump stuck", "power back, the pump does not turn");
    if (!heat) return;
    const stuck = { ...event, hours: event.pumpStuckHours, everythingOff: false, room: null };
    const curve = heat.cooling(stuck, upkeep.temperatureC, upkeep.setpointC);
    followHeat(keeping, record, curve, dayAfter(event.hours), event.pumpStuckHours);
  });
  const flowBackDay = dayAfter(stillHours(event));
  moments.at(flowBackDay, () => {
    flowBack(keeping, options, record);
    if (heat) warmUp(keeping, record, heat, flowBackDay);
    keeping.mark(flowBackDay, "power back", event.pumpStuckHours > 0 ? "the pump turns again" : "power back");
  });
}

/** Heater, air and closed filters work again. */
function powerBack(keeping: Keeping, event: PowerCutEvent): void {
  const { upkeep } = keeping;
  keeping.change(() => {
    upkeep.dark = false;
    upkeep.batteryAirPerDay = 0;
    upkeep.useOverResting = useOverResting("active", "likely");
    if (event.everythingOff) startClosedFilters(keeping, event.closedFilter);
  });
}

/** What the standstill killed becomes waste, and the water is pumped up again. */
function flowBack(keeping: Keeping, { stop, outageLoss }: OutageOptions, record: CutRecord): void {
  const { upkeep, y, aquarium } = keeping;
  const { system } = aquarium;
  record.end();
  const still = { ...record.event, hours: stillHours(record.event) };
  for (const [f, film] of record.films.entries()) {
    const foulHours = record.foulHours(system.wiring.films[f].cell);
    const lost = outageLoss?.(still, f, { ...film, foulHours });
    if (lost) kill(system, y, f, { aob: lost.aob, cmx: lost.aob, nob: lost.nob, het: lost.aob });
  }
  keeping.change(() => {
    if (stop) move(keeping, stop.startShare, stop.runningVolumesM3);
    upkeep.running = true;
    upkeep.stillSurfaceFactor = 1;
  });
}

/** Water and its heat go where the hydraulic model says. */
function move(keeping: Keeping, share: readonly (readonly number[])[], volumesM3: readonly number[]): void {
  const { aquarium, upkeep, y } = keeping;
  const { system } = aquarium;
  upkeep.temperatureC = mixedTemperaturesC(
    share,
    system.conditions.cells.map((cell) => cell.volumeM3),
    volumesM3,
    upkeep.temperatureC,
  );
  keeping.book("water on the floor", () => moveWater(system, y, share, volumesM3));
}

/**
 * Temperatures once water has moved: heat goes with it (density and heat capacity taken as one for all). Told as differences from the mean, so that
 * no heat is lost where shares and volumes disagree in the last litre, and even water stays even.
 * @param share share[to][from] of each cell's water, a last row for the floor
 */
export function mixedTemperaturesC(
  share: readonly (readonly number[])[],
  fromM3: readonly number[],
  toM3: readonly number[],
  temperatureC: readonly number[],
): number[] {
  const mean = temperatureC.reduce((sum, t, c) => sum + t * fromM3[c], 0) / fromM3.reduce((a, b) => a + b, 0);
  return toM3.map(
    (volume, to) => mean + temperatureC.reduce((sum, t, from) => sum + share[to][from] * fromM3[from] * (t - mean), 0) / volume,
  );
}

/** Lets the temperatures follow a curve in pieces for some hours; given up when another cut begins. */
function followHeat(keeping: Keeping, record: CutRecord, curve: HeatCurve, fromDay: number, hours: number): void {
  const { upkeep, moments, cuts } = keeping;
  for (let h = 0; h < hours; ) {
    const now = curve.at(h);
    let piece = 1;
    while (piece < LONGEST_PIECE_H && curve.at(h + 2 * piece).every((t, c) => Math.abs(t - now[c]) < PIECE_K)) piece *= 2;
    const middle = curve.at(Math.min(hours, h + piece / 2));
    moments.at(fromDay + h / HOURS_PER_DAY, () => {
      if (cuts[cuts.length - 1] === record)
        keeping.change(() => {
          upkeep.temperatureC = [...middle];
        });
    });
    h += piece;
  }
}

/** Everything runs: the water mixes, and the heater brings it back to the set-point. */
function warmUp(keeping: Keeping, record: CutRecord, heat: OutageHeat, day: number): void {
  const { upkeep, moments, cuts } = keeping;
  const { setpointC } = upkeep;
  const curve = heat.warming(upkeep.temperatureC, setpointC);
  const cold = (h: number): boolean => curve.at(h).some((t) => Math.abs(t - setpointC) > WARM_WITHIN_K);
  let hours = 0;
  while (hours < WARMING_H && cold(hours)) hours++;
  followHeat(keeping, record, curve, day, hours);
  moments.at(day + hours / HOURS_PER_DAY, () => {
    if (cuts[cuts.length - 1] === record)
      keeping.change(() => {
        upkeep.temperatureC = upkeep.temperatureC.map(() => upkeep.setpointC);
      });
  });
}

function batteryAirOf({ aquarium, upkeep }: Keeping): number {
  const { volumeM3, temperatureC } = aquarium.system.conditions.cells[aquarium.displayCells[0]];
  return batteryAirPerDay(volumeM3, displayPlanM2(aquarium.rig.displays[0]), temperatureC, upkeep.salinityGPerKg);
}

/** Water poured from a jug: a share of the missing oxygen is made good. */
function pour(keeping: Keeping): void {
  const { system, displayCells } = keeping.aquarium;
  keeping.jumped = true;
  for (const c of displayCells) {
    const { o2SaturationGPerM3, temperatureC } = system.conditions.cells[c];
    const i = system.cellIndex(c, "o2");
    keeping.y[i] += pouringShare(temperatureC) * Math.max(0, o2SaturationGPerM3 - keeping.y[i]);
  }
}
