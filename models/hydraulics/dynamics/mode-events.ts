// Discrete events of the hydraulics: siphons break, pipes fill, floats switch, levels reach rims.

import type { SimulationEvent, StateEvent } from "../../../sim/events/events.ts";
import { levelZ } from "../laws/level-curve.ts";
import { clearingVelocityMPerS, PLUG_SHARE } from "../laws/outlet.ts";
import { boreAreaM2, pipeLossM } from "../laws/pipe.ts";
import type { DrainPipe, FullPipeLink, Network } from "../network/network.ts";
import type { HydraulicEvent } from "../types.ts";
import { bareZ } from "./return-line.ts";
import type { HydraulicSystem } from "./system.ts";

/** A shorter air pocket does not count as air [m]. */
const LEAST_POCKET_M = 0.002;
/** Air enters a full drain when the box level is less than this above its mouth [m] (modelling assumption). */
const DRAIN_SEAL_M = 0.001;
/** Share of a full drain's water that the first intake of air releases. */
const AIR_ENTRY_LOSS_SHARE = 0.02;

/** Distance below the intake level at which the pump counts as drawing air [m]. */
const CLEAR_M = 5e-4;

/** One return line of a system. */
type Line = HydraulicSystem["lines"][number];

/** Whether its pump delivers water into the riser. */
const pumping = ({ modes }: Line): boolean => modes.pumpOn && !modes.hoseOff;

/**
 * Positive while the column of a joined leg is intact: reverse flow over its crown has a driving head and too little
 * air to part it, or there is no air in it yet (the leg is kept full by the pump).
 */
function columnHolds(system: HydraulicSystem, own: Line, n: number, y: Float64Array): number {
  const { network } = system;
  const leg = own.line.legs[n];
  const display = levelZ(network.vessels[leg.display].curve, y[leg.display]);
  const pocket = leg.crownZ - levelZ(network.vessels[leg.legVessel].curve, y[leg.legVessel]);
  if (leg.shut) return LEAST_POCKET_M;
  const tee = own.line.tees[leg.tee];
  if (own.modes.teeAired[leg.tee] === 1 && display <= tee.z) return display - tee.z - LEAST_POCKET_M;
  if (pocket < LEAST_POCKET_M) return LEAST_POCKET_M - pocket;
  system.evaluate(y);
  const driven = Math.max(display - pocket - own.solver.drawnFromZ(n) - 1e-3, LEAST_POCKET_M - pocket);
  return Math.min(driven, PLUG_SHARE * (leg.crownZ - network.vessels[leg.legVessel].bottomZ) - pocket);
}

/** Positive while the tip of a joined leg is covered: water reaches it, or the pump delivers water through it. */
function nozzleCovered(system: HydraulicSystem, own: Line, n: number, y: Float64Array): number {
  const { network } = system;
  const leg = own.line.legs[n];
  if (leg.shut) return LEAST_POCKET_M;
  const under = levelZ(network.vessels[leg.display].curve, y[leg.display]) - bareZ(leg);
  if (under > 0 || !pumping(own)) return under;
  system.evaluate(y);
  return Math.max(under, own.solver.teeZ[leg.tee] - bareZ(leg));
}

/**
 * Head over the column of a parted leg below which the pump does not count as delivering [m]: the column then rises by
 * less than a tenth of a millimetre a second. That little drips from the outlet and fills no pipe (modelling assumption).
 */
const DELIVERING_M = 3e-5;

/**
 * Rises through zero when the pump has filled a parted leg to its crown and still delivers; the leg may have been that
 * full before and be emptying. A pump that draws only air holds a full leg without delivering.
 */
function columnFills(system: HydraulicSystem, own: Line, n: number, y: Float64Array): number {
  const { network } = system;
  const leg = own.line.legs[n];
  const columnZ = levelZ(network.vessels[leg.legVessel].curve, y[leg.legVessel]);
  if (columnZ < leg.crownZ) return columnZ - leg.crownZ;
  system.evaluate(y);
  return Math.min(columnZ - leg.crownZ, own.solver.teeZ[leg.tee] - columnZ - DELIVERING_M);
}

/** Height of the water in a parted leg above its tee at which air enters the tee [m]. */
const TEE_CLEAR_M = 2e-3;

/**
 * Positive while there is no air in a tee: the water of every open, parted leg is above it, and so is the water below a
 * tee above it that contains air.
 */
function teeCovered(system: HydraulicSystem, own: Line, t: number, y: Float64Array): number {
  const { network } = system;
  const { modes } = own;
  const { legs, tees } = own.line;
  let lowest = Number.POSITIVE_INFINITY;
  for (let n = 0; n < legs.length; n++) {
    if (legs[n].tee !== t || legs[n].shut || modes.legJoined[n] === 1) continue;
    lowest = Math.min(lowest, levelZ(network.vessels[legs[n].legVessel].curve, y[legs[n].legVessel]));
  }
  if (t + 1 < tees.length && modes.teeAired[t + 1] === 1) {
    system.evaluate(y);
    lowest = Math.min(lowest, own.solver.teeZ[t]);
  }
  return lowest === Number.POSITIVE_INFINITY ? 1 : lowest - tees[t].z - TEE_CLEAR_M;
}

/**
 * Initialises the discrete modes consistently with the volumes at the start of a stage, so that no guard is already
 * past its zero: columns with air at their end are parted, short legs wait to be filled, floats have switched.
 */
export function initialiseModes(system: HydraulicSystem, y: Float64Array): void {
  const { network, modes } = system;
  const at = (vessel: number) => levelZ(network.vessels[vessel].curve, y[vessel]);
  for (const own of system.lines) {
    own.line.legs.forEach((leg, n) => {
      const full = at(leg.legVessel) >= leg.crownZ - LEAST_POCKET_M;
      if (pumping(own)) own.modes.legJoined[n] = full ? 1 : 0;
      else if (at(leg.display) <= bareZ(leg)) own.modes.legJoined[n] = 0;
    });
    own.modes.teeAired.fill(0);
    partLegs(system, own, y);
  }
  network.drains.forEach((drain, n) => {
    if (modes.drainFull[n] === 1 && at(drain.box) <= drain.inletZ + DRAIN_SEAL_M) letAirIn(system, n, y);
    const over = y[drain.pipeVessel] - roomM3(drain);
    if (drain.kind !== "throttled siphon" || modes.drainFull[n] === 1 || over < 0) return;
    // More than full without running full: the rest, and the share of the first intake of air, have already left.
    y[drain.pipeVessel] -= over;
    y[drain.to] += over;
    letAirIn(system, n, y);
  });
  for (const tubes of siphonTubes(network)) if (tubesGuard(network, tubes, y) <= 0) modes.tubesPrimed[tubes.prime] = 0;
  if (network.topOff && network.returnLine && (modes.topOff === "on" || modes.topOff === "off")) {
    const level = at(network.returnLine.source);
    if (level <= network.topOff.onBelowZ) modes.topOff = "on";
    else if (level >= network.topOff.offAboveZ) modes.topOff = "off";
  }
}

/** Parts every joined leg that admits air, and lets the air into its tee; both change the heads of the other legs. */
function partLegs(system: HydraulicSystem, own: Line, y: Float64Array): void {
  const { modes } = own;
  const { legs, tees } = own.line;
  const holds = (n: number): boolean => nozzleCovered(system, own, n, y) >= 0 && columnHolds(system, own, n, y) >= 0;
  for (;;) {
    const leg = legs.findIndex((_, n) => modes.legJoined[n] === 1 && !holds(n));
    if (leg >= 0) modes.legJoined[leg] = 0;
    const tee = pumping(own) ? -1 : tees.findIndex((_, t) => modes.teeAired[t] === 0 && teeCovered(system, own, t, y) <= 0);
    if (tee >= 0) modes.teeAired[tee] = 1;
    if (leg < 0 && tee < 0) return;
  }
}

/** All events of a network; each appends an entry to `log` when it occurs. */
export function plumbingEvents(system: HydraulicSystem, log: HydraulicEvent[]): SimulationEvent[] {
  const { network } = system;
  const level = (vessel: number, y: Float64Array) => levelZ(network.vessels[vessel].curve, y[vessel]);
  const note = (tS: number, id: string, label: string) => log.push({ tS, id, label });
  const events: SimulationEvent[] = [];

  /**
   * An event that only logs: one label for rising through zero, one for falling; "" logs nothing. It monitors both
   * directions, so that a stage may begin on either side.
   */
  const watch = (
    id: string,
    rising: string,
    falling: string,
    guard: (y: Float64Array) => number,
    armed?: () => boolean,
  ): void => {
    const event: StateEvent = {
      kind: "state",
      id,
      label: rising || falling,
      direction: "either",
      priority: 1,
      guard: (_t, y) => guard(y),
      apply(t, y) {
        const label = guard(y) >= 0 ? rising : falling;
        if (label !== "") note(t, id, label);
        return "continue";
      },
    };
    events.push(armed ? { ...event, armed } : event);
  };
  const change: Change = (id, label, direction, guard, armed, apply) => {
    events.push({
      kind: "state",
      id,
      label,
      direction,
      guard: (_t, y) => guard(y),
      armed,
      apply(t, y) {
        const said = apply(y);
        note(t, said?.id ?? id, said?.label ?? label);
        return "continue";
      },
    });
  };

  for (const own of system.lines) addReturnEvents(system, own, level, change, watch);
  addDrainEvents(system, level, change, watch);
  for (const tubes of siphonTubes(network))
    change(
      `${tubes.id} lose prime`,
      `${tubes.name} take air and stop`,
      "falling",
      (y) => tubesGuard(network, tubes, y),
      () => system.modes.tubesPrimed[tubes.prime] === 1,
      () => {
        system.modes.tubesPrimed[tubes.prime] = 0;
        return undefined;
      },
    );
  addTopOffEvents(system, level, change);
  for (const [n, vessel] of network.vessels.entries()) {
    const rim = vessel.rimZ;
    if (rim !== null)
      watch(
        `rim ${vessel.id}`,
        `water at the rim of ${vessel.name}`,
        `${vessel.name} falls below its rim`,
        (y) => level(n, y) - rim,
      );
  }
  return events;
}

type Level = (vessel: number, y: Float64Array) => number;
type Change = (
  id: string,
  label: string,
  direction: "rising" | "falling",
  guard: (y: Float64Array) => number,
  armed: () => boolean,
  /** The log entry, where it depends on the state. */
  apply: (y: Float64Array) => Pick<HydraulicEvent, "id" | "label"> | undefined,
) => void;
type Watch = (id: string, rising: string, falling: string, guard: (y: Float64Array) => number, armed?: () => boolean) => void;

function addReturnEvents(system: HydraulicSystem, own: Line, level: Level, change: Change, watch: Watch): void {
  const { line, modes } = own;
  line.legs.forEach((leg, n) => {
    const joined = () => modes.legJoined[n] === 1;
    const bared = { id: `nozzle ${leg.id} bared`, label: `nozzle ${leg.id} comes out of the water: its siphon breaks` };
    const broken = {
      id: `siphon ${leg.id} broken`,
      label: `air from its hole breaks the siphon of the return pipe to ${leg.id}`,
    };
    const part = (y: Float64Array) => {
      modes.legJoined[n] = 0;
      return level(leg.display, y) > leg.tipZ ? broken : bared;
    };
    change(bared.id, bared.label, "falling", (y) => nozzleCovered(system, own, n, y), joined, part);
    change(broken.id, broken.label, "falling", (y) => columnHolds(system, own, n, y), joined, part);
    change(
      `leg ${leg.id} filled`,
      `the return pipe to ${leg.id} is full: water leaves the nozzle`,
      "rising",
      (y) => columnFills(system, own, n, y),
      () => !joined() && pumping(own),
      () => {
        modes.legJoined[n] = 1;
        return undefined;
      },
    );
    const { hole } = leg;
    if (hole)
      watch(
        `hole ${leg.id}`,
        "",
        `the siphon-break hole of ${leg.id} takes air`,
        (y) => level(leg.display, y) - (hole.z + hole.diameterM / 2),
        () => joined() && !pumping(own),
      );
  });
  line.tees.forEach((_, t) => {
    const together = line.legs.filter((leg) => leg.tee === t).map(({ id }) => id);
    if (together.length < 2 && line.tees.length < 2) return;
    change(
      `tee ${t + 1}${line.id} takes air`,
      `air from an open outlet stands in the tee to ${together.join(" and ")}`,
      "falling",
      (y) => teeCovered(system, own, t, y),
      () => modes.teeAired[t] === 0 && !pumping(own),
      (y) => {
        modes.teeAired[t] = 1;
        partLegs(system, own, y);
        return undefined;
      },
    );
  });
  watch(
    `pump air${line.id}`,
    `the pump${line.id} draws clear water again`,
    `the pump${line.id} begins to draw air`,
    (y) => level(line.source, y) - (line.intakeZ - CLEAR_M),
    () => pumping(own),
  );
}

function addDrainEvents(system: HydraulicSystem, level: Level, change: Change, watch: Watch): void {
  const { network, modes } = system;
  network.drains.forEach((drain, n) => {
    if (drain.kind === "dry emergency")
      watch(
        `emergency ${drain.id}`,
        `the emergency drain ${drain.id} runs, and gurgles`,
        `the emergency drain ${drain.id} is dry again`,
        (y) => level(drain.box, y) - drain.inletZ - 1e-3,
      );
    if (drain.kind !== "throttled siphon") return;
    const room = roomM3(drain);
    change(
      `drain ${drain.id} takes air`,
      `the full drain ${drain.id} takes air`,
      "falling",
      (y) => level(drain.box, y) - drain.inletZ - DRAIN_SEAL_M,
      () => modes.drainFull[n] === 1,
      (y) => {
        letAirIn(system, n, y);
        return undefined;
      },
    );
    change(
      `drain ${drain.id} runs full`,
      `the drain ${drain.id} has purged its air and runs full`,
      "rising",
      (y) => y[drain.pipeVessel] / room - 1,
      () => modes.drainFull[n] === 0,
      () => {
        modes.drainFull[n] = 1;
        return undefined;
      },
    );
  });
}

const roomM3 = ({ pipe }: DrainPipe): number => boreAreaM2(pipe.boreM) * pipe.lengthM;

/** A full drain takes in air: its column parts, and the first of its water leaves at the foot. */
function letAirIn(system: HydraulicSystem, n: number, y: Float64Array): void {
  const drain = system.network.drains[n];
  system.modes.drainFull[n] = 0;
  const airEntryLoss = AIR_ENTRY_LOSS_SHARE * y[drain.pipeVessel];
  y[drain.pipeVessel] -= airEntryLoss;
  y[drain.to] += airEntryLoss;
}

function addTopOffEvents(system: HydraulicSystem, level: Level, change: Change): void {
  const { topOff, returnLine } = system.network;
  if (!topOff || !returnLine) return;
  const { modes } = system;
  const chamber = (y: Float64Array) => level(returnLine.source, y);
  const turn = (to: "on" | "off") => () => {
    modes.topOff = to;
    return undefined;
  };
  change(
    "top-off on",
    "the top-off starts",
    "falling",
    (y) => chamber(y) - topOff.onBelowZ,
    () => modes.topOff === "off",
    turn("on"),
  );
  change(
    "top-off off",
    "the top-off stops",
    "rising",
    (y) => chamber(y) - topOff.offAboveZ,
    () => modes.topOff === "on",
    turn("off"),
  );
}

export function siphonTubes(network: Network): FullPipeLink[] {
  return network.links.filter((link) => link.kind === "full pipe").filter((link) => link.prime >= 0);
}

/**
 * Positive while a set of siphon tubes keeps its prime: the inlet end is submerged, and the outlet end is either
 * submerged or has a flow fast enough to keep air from rising (Wisner, Mohsen & Kouwen 1975).
 */
function tubesGuard(network: Network, tubes: FullPipeLink, y: Float64Array): number {
  const cup = levelZ(network.vessels[tubes.from].curve, y[tubes.from]);
  const box = levelZ(network.vessels[tubes.to].curve, y[tubes.to]);
  const { pipe } = tubes;
  const clearing = clearingVelocityMPerS(pipe.boreM) * boreAreaM2(pipe.boreM);
  const swept = cup - tubes.outletZ - pipeLossM(pipe, clearing, network.viscosityM2PerS);
  return Math.min(cup - tubes.inletZ, Math.max(box - tubes.outletZ, swept));
}
