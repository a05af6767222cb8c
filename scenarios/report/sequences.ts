// Stops of the pump, from the plan and from a timer, that are so close together that the levels carry over.

import { type Stop, stopsInARow } from "../../models/hydraulics/outage/cuts-in-a-row.ts";
import type { OutageSimulator } from "../../models/hydraulics/outage/outage-simulation.ts";
import { returnLines } from "../../models/rig.ts";
import { SECONDS_PER_DAY } from "../../sim/time.ts";
import type { ResolvedScenario } from "../build/build.ts";
import type { TitledSequence } from "./hydraulic-report.ts";

/** Largest gap between outages of a plan that form one sequence [s]. */
const CLOSE_S = 1800;
/** Number of simulated timer cycles; by then the cycles are periodic. */
const TURNS = 6;
/** Seconds of steady running before the first stop. */
const LEAD_S = 5;
/** Time for which one circuit is off [s]: long enough for the levels to settle (modelling assumption). */
const CIRCUIT_OFF_S = 3600;
/** Longest stop that is simulated to its end [s]; after six hours the remaining flow is only dripping. */
const LONGEST_S = 6 * 3600;

interface Wanted {
  readonly id: string;
  readonly title: string;
  readonly stops: readonly Stop[];
  readonly powered: boolean;
  /** Only the pumps on this circuit stop. */
  readonly circuit?: string;
}

/**
 * Sequences of a scenario: the requested outage if it repeats or ends while water still moves, outages of the calendar that are
 * close together, and a pump on a timer.
 * @param settlesS time that the levels need to come to rest after the pump has stopped [s]
 */
export function sequencesOf(resolved: ResolvedScenario, simulator: OutageSimulator, settlesS: number): TitledSequence[] {
  const wanted = [asked(resolved, settlesS), ...planned(resolved, settlesS), onTimer(resolved), ...circuits(resolved)];
  return wanted.flatMap((one) => {
    const run = one && stopsInARow(simulator, one.stops, one.powered, one.circuit);
    return one && run ? [{ id: one.id, title: one.title, stops: one.stops, circuit: one.circuit, run }] : [];
  });
}

/** Each circuit alone, where the return pumps are on several. The top-off runs on, the unfavourable side. */
function circuits({ rig }: ResolvedScenario): Wanted[] {
  const names = [...new Set(returnLines(rig).map(({ circuit }) => circuit))];
  if (names.length < 2) return [];
  const stops = [{ fromS: LEAD_S, forS: CIRCUIT_OFF_S }];
  return names.map((circuit, n) => ({
    id: `circuit-${n + 1}`,
    title: `Only the circuit ${circuit} fails`,
    stops,
    powered: true,
    circuit,
  }));
}

function asked({ outage, cutsInARow: { times, pauseS } }: ResolvedScenario, settlesS: number): Wanted | null {
  const forS = 3600 * outage.hours;
  if (forS > LONGEST_S || (times === 1 && forS >= settlesS)) return null;
  const stops = Array.from({ length: times }, (_, n) => ({ fromS: LEAD_S + n * (forS + pauseS), forS }));
  return {
    id: "asked-in-a-row",
    title: times === 1 ? "Power back while the water still comes down" : `${times} cuts in a row`,
    stops,
    powered: !outage.everythingOff,
  };
}

function planned({ management }: ResolvedScenario, settlesS: number): Wanted[] {
  const cuts = management.events.flatMap((event) =>
    event.kind === "power cut"
      ? [
          {
            startS: event.day * SECONDS_PER_DAY,
            forS: 3600 * (event.hours + event.pumpStuckHours),
            powered: !event.everythingOff,
          },
        ]
      : [],
  );
  const rows: (typeof cuts)[] = [];
  for (const cut of cuts) {
    const row = rows[rows.length - 1];
    const before = row?.[row.length - 1];
    if (before && cut.startS - before.startS - before.forS < Math.max(CLOSE_S, settlesS)) row.push(cut);
    else rows.push([cut]);
  }
  return rows
    .filter((row) => row.length > 1 && row.every(({ forS }) => forS <= LONGEST_S))
    .map((row, n) => ({
      id: `planned-in-a-row-${n + 1}`,
      title: `${row.length} cuts in a row, day ${Math.floor(row[0].startS / SECONDS_PER_DAY)}`,
      stops: row.map(({ startS, forS }) => ({ fromS: LEAD_S + startS - row[0].startS, forS })),
      powered: row.every(({ powered }) => powered),
    }));
}

function onTimer({ rig }: ResolvedScenario): Wanted | null {
  const { timer } = rig.return.pump;
  if (!timer) return null;
  const stops = Array.from({ length: TURNS }, (_, n) => ({ fromS: LEAD_S + n * (timer.onS + timer.offS), forS: timer.offS }));
  return { id: "timer", title: "The pump on its timer", stops, powered: true };
}
