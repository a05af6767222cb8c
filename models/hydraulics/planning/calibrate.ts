// Calibration by measurements on the built system: adjusts the pump, a drain and the weirs until the model gives the
// measured values.

import type { Rig } from "../../rig.ts";
import { atSpeed } from "../laws/pump.ts";
import { OutageSimulator } from "../outage/outage-simulation.ts";

export interface Measured {
  /** Total flow of all outlets, measured with a bucket and a watch [m³/s]. */
  readonly returnFlowM3PerS: number | null;
  /** Largest flow that the main drain of the first tank carries before its box is full [m³/s]. */
  readonly drainCapacityM3PerS: number | null;
  /** Rise of the level in the return chamber during a power cut, measured with a ruler [m]. */
  readonly levelRiseM: number | null;
}

export interface Calibration {
  readonly what: "return flow" | "drain capacity" | "level rise";
  /** In m³/s; the rise in m. */
  readonly measured: number;
  readonly modelled: number;
  /** Factor on the pump speed, the bore of the drain or the open share of the weirs; null if no factor gives the measured value. */
  readonly factor: number | null;
}

/** Range of the factors tried. A larger deviation means another rig, or an error of measurement (modelling assumption). */
const WITHIN = [0.3, 1.6] as const;
const PRECISION = 1e-4;

/** The factor at which an increasing function has the given value; null if it has not within the range. */
function factorFor(wanted: number, value: (factor: number) => number): number | null {
  let [low, high]: [number, number] = [WITHIN[0], WITHIN[1]];
  if (value(low) > wanted || value(high) < wanted) return null;
  while (high - low > PRECISION) {
    const middle = (low + high) / 2;
    if (value(middle) > wanted) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}

const withPumpSpeed = (rig: Rig, speed: number): Rig => ({
  ...rig,
  return: { ...rig.return, pump: { ...rig.return.pump, curve: atSpeed(rig.return.pump.curve, speed) } },
});

/** Id of the widest drain of the first display that is not an emergency pipe. */
function mainDrain({ displays }: Rig): string {
  const drains = displays[0].overflows.flatMap((overflow) => overflow.drains);
  const working = drains.filter(({ kind }) => kind !== "dry emergency");
  return (working.length > 0 ? working : drains).reduce((best, drain) => (drain.boreM > best.boreM ? drain : best)).id;
}

const withDrainBore = (rig: Rig, id: string, factor: number): Rig => ({
  ...rig,
  displays: rig.displays.map((display) => ({
    ...display,
    overflows: display.overflows.map((overflow) => ({
      ...overflow,
      drains: overflow.drains.map((drain) => (drain.id === id ? { ...drain, boreM: drain.boreM * factor } : drain)),
    })),
  })),
});

const withWeirs = (rig: Rig, factor: number): Rig => ({
  ...rig,
  displays: rig.displays.map((display) => ({
    ...display,
    overflows: display.overflows.map((overflow) => ({ ...overflow, openShare: overflow.openShare * factor })),
  })),
});

function riseM(rig: Rig): number {
  const { running, cut } = new OutageSimulator(rig).cutOnly(rig);
  const last = rig.sump.chambers[rig.sump.chambers.length - 1].id;
  return cut.highestZ[last].z - running.levelsZ[last];
}

/** Calibrates a rig by its measurements: the flow first, because drains and levels depend on it. */
export function calibrate(rig: Rig, measured: Measured): { readonly rig: Rig; readonly calibrations: readonly Calibration[] } {
  const calibrations: Calibration[] = [];
  let set = rig;
  const apply = (
    what: Calibration["what"],
    wanted: number | null,
    read: (rig: Rig) => number,
    change: (rig: Rig, factor: number) => Rig,
    falls = false,
  ): void => {
    if (wanted === null) return;
    const base = set;
    const sign = falls ? -1 : 1;
    const modelled = read(base);
    const factor = factorFor(sign * wanted, (factor) => sign * read(change(base, factor)));
    if (factor !== null) set = change(base, factor);
    calibrations.push({ what, measured: wanted, modelled, factor });
  };
  const flow = (of: Rig) => new OutageSimulator(of).running().nozzles.reduce((sum, nozzle) => sum + nozzle.flowM3PerS, 0);
  apply("return flow", measured.returnFlowM3PerS, flow, withPumpSpeed);
  const drain = mainDrain(set);
  const capacity = (of: Rig) =>
    new OutageSimulator(of).running().drains.find(({ drainId }) => drainId === drain)?.capacityM3PerS ?? 0;
  apply("drain capacity", measured.drainCapacityM3PerS, capacity, (of, factor) => withDrainBore(of, drain, factor));
  // A narrower weir holds back more water, which drains down in a power cut.
  apply("level rise", measured.levelRiseM, riseM, withWeirs, true);
  return { rig: set, calibrations };
}
