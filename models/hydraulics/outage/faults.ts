// Faults as data: name, likelihood, and effect.

import type { Drain, Nozzle, Overflow, ReturnLine, Rig } from "../../rig.ts";
import type { Fault, FaultId } from "../types.ts";

/** Effects on a stage of the run, not on the rig. */
export interface StageEffects {
  /** The hose comes off the pump while it runs. */
  readonly hoseOff?: true;
  /** Siphon tubes of hang-on boxes are empty at restart. */
  readonly tubesEmptyAtRestart?: true;
  readonly pumpStaysOff?: true;
  /** One of several return pumps stands while the others run: 0 is the main one. */
  readonly pumpStands?: number;
  /** The reservoir has emptied into the return chamber before the run begins. */
  readonly reservoirDumped?: true;
  /** The top-off does not replace missing water. */
  readonly topOffDead?: true;
}

interface FaultModel extends Fault {
  readonly applies: (rig: Rig) => boolean;
  /** A different fill, before anything else. */
  readonly refill?: (rig: Rig) => Rig;
  /** What is broken, displaced or blocked. */
  readonly alter?: (rig: Rig) => Rig;
  /** Additional changes that take effect only at restart. */
  readonly alterAtRestart?: (rig: Rig) => Rig;
  readonly stage?: StageEffects;
}

/** Typical magnitudes of the faults (modelling assumptions, stated with each fault). */
const OVERFILL_M = 0.03;
const KNOCKED_DOWN_M = 0.1;
const NEARLY_DRY_M = 0.015;
const MATTED_SHARE = 0.35;
const BLINDED_SHARE = 0.97;
const CLOGGED_SHARE = 0.15;
const NEARLY_CLOSED_SHARE = 0.03;
const DRIP_HOLE_M = 0.002;
const SEAM_M2 = 1e-5;
const SEAM_HEIGHT_M = 0.005;
/** A drain is a standpipe if its mouth is higher than this above the floor [m]. */
const STANDS_M = 0.03;
/** Height of the edge of a drilled hole above the floor without its standpipe [m]. */
const HOLE_EDGE_M = 0.002;

const FAULTS: readonly FaultModel[] = [
  {
    id: "break hole blocked",
    name: "siphon-break hole blocked by a snail or by salt",
    changes: "the siphon-break hole over the most water is closed",
    ordinary: 3,
    applies: (rig) => rig.return.nozzles.some((nozzle) => nozzle.breakHole !== null),
    alter: (rig) => withNozzle(rig, deepestHoled(rig), (nozzle) => ({ ...nozzle, breakHole: null })),
  },
  {
    id: "check valve leaks",
    name: "grit in the check valve",
    changes: "the check valve lets water back freely",
    ordinary: 3,
    applies: trustsValve,
    alter: valvesStuckOpen,
  },
  {
    id: "outlet blocked",
    name: "shallowest return outlet blocked by algae or a snail",
    changes: "the outlet that would be the first to let air to its tee is closed",
    ordinary: 2,
    applies: (rig) => rig.return.nozzles.filter(({ branch, openShare }) => branch !== null && openShare > 0).length > 1,
    alter: (rig) => withNozzle(rig, shallowest(rig), (nozzle) => ({ ...nozzle, openShare: 0 })),
  },
  {
    id: "overfilled",
    name: "sump filled 30 mm too high",
    changes: "running level 30 mm higher, at most 2 mm under the rim",
    ordinary: 3,
    applies: () => true,
    refill: (rig) => withRunningLevel(rig, Math.min(rig.sump.runningLevelM + OVERFILL_M, rig.sump.heightM - 0.002)),
  },
  {
    id: "evaporated",
    name: "no top-up, so that the return chamber is almost down to the pump intake",
    changes: "running level 15 mm over the intake, top-off dead",
    ordinary: 3,
    applies: (rig) => rig.sump.runningLevelM > rig.return.pump.intakeM + NEARLY_DRY_M,
    refill: (rig) => withRunningLevel(rig, rig.return.pump.intakeM + NEARLY_DRY_M),
    stage: { topOffDead: true },
  },
  {
    id: "nozzle knocked down",
    name: "return outlet knocked 100 mm deeper",
    changes: "lowest opening and siphon-break hole of the deepest nozzle 100 mm lower",
    ordinary: 2,
    applies: () => true,
    alter: (rig) =>
      withNozzle(rig, deepest(rig), (nozzle) => ({
        ...nozzle,
        tipZ: nozzle.tipZ - KNOCKED_DOWN_M,
        breakHole: nozzle.breakHole && { ...nozzle.breakHole, z: nozzle.breakHole.z - KNOCKED_DOWN_M },
      })),
  },
  {
    id: "drain half blocked",
    name: "main drain half blocked by a leaf or a snail",
    changes: "half the bore of the widest working drain is closed",
    ordinary: 3,
    applies: () => true,
    alter: (rig) => withDrain(rig, (drain) => ({ ...drain, openShare: drain.openShare / 2 })),
  },
  {
    id: "drain blocked",
    name: "main drain blocked",
    changes: "the widest working drain is closed",
    ordinary: 2,
    applies: () => true,
    alter: (rig) => withDrain(rig, (drain) => ({ ...drain, openShare: 0 })),
  },
  {
    id: "standpipe lost",
    name: "standpipe loose, or left out after cleaning",
    changes: "the mouth of the working drain lies at the floor of the tank or box it drains",
    ordinary: 2,
    applies: (rig) => standpipes(rig).length > 0,
    alter: (rig) => withOverflow(rig, tallest(rig).id, (overflow) => ({ ...overflow, drains: fallen(overflow.drains) })),
  },
  {
    id: "box seam leaks",
    name: "seam of the overflow box leaks",
    changes: `an opening of ${SEAM_M2 * 1e6} mm2 at the foot of the box lets water of the tank into it`,
    ordinary: 1,
    applies: (rig) => boxed(rig).length > 0,
    alter: (rig) =>
      withOverflow(rig, boxed(rig)[0].id, (overflow) => ({
        ...overflow,
        leak: { areaM2: SEAM_M2, z: overflow.box.floorZ + SEAM_HEIGHT_M, to: "box" },
      })),
  },
  {
    id: "siphon lost prime",
    name: "air in the siphon tubes of the hang-on overflow",
    changes: "the tubes are empty when the pump restarts",
    ordinary: 3,
    applies: (rig) =>
      rig.displays.some((display) => display.overflows.some((overflow) => overflow.kind === "hang-on" && overflow.siphon)),
    stage: { tubesEmptyAtRestart: true },
  },
  {
    id: "hose off",
    name: "hose slipped off the return pump",
    changes: "the riser ends open in the return chamber; the pump only stirs",
    ordinary: 2,
    applies: () => true,
    stage: { hoseOff: true },
  },
  {
    id: "reservoir dumped",
    name: "top-off stuck open, with its whole reservoir in the sump",
    changes: "the reservoir's water is in the return chamber",
    ordinary: 3,
    applies: (rig) => (rig.topOff?.reservoirM3 ?? 0) > 0,
    stage: { reservoirDumped: true },
  },
  {
    id: "prefilter blinded",
    name: "filter pad clogged",
    changes: "97 % of the pad is blinded; water spills past it",
    ordinary: 3,
    applies: (rig) => rig.towers.some((tower) => tower.prefilter !== null),
    alter: (rig) => ({
      ...rig,
      towers: rig.towers.map((tower) => ({
        ...tower,
        prefilter: tower.prefilter && { ...tower.prefilter, blindedShare: BLINDED_SHARE },
      })),
    }),
  },
  {
    id: "tray clogged",
    name: "drip holes clogged",
    changes: "15 % of the drip holes are open; the tray spills",
    ordinary: 2,
    applies: (rig) => rig.towers.length > 0,
    alter: (rig) => ({
      ...rig,
      towers: rig.towers.map((tower) => ({ ...tower, tray: { ...tower.tray, holes: tower.tray.holes * CLOGGED_SHARE } })),
    }),
  },
  {
    id: "weir matted",
    name: "leaves or algae across the overflow weir",
    changes: "35 % of the weir's opening is left; the top-off, if any, makes up for the water held back in the display",
    ordinary: 3,
    applies: () => true,
    alter: (rig) => ({
      ...rig,
      displays: rig.displays.map((display) => ({
        ...display,
        overflows: display.overflows.map((overflow) => ({ ...overflow, openShare: overflow.openShare * MATTED_SHARE })),
      })),
    }),
  },
  {
    id: "pump does not restart",
    name: "return pump hums but does not turn",
    changes: "no flow after the power is back",
    ordinary: 2,
    applies: () => true,
    stage: { pumpStaysOff: true },
  },
  {
    id: "main pump stands",
    name: "the main return pump stops, the other runs on",
    changes: "the main return pump stands, and its riser runs back",
    ordinary: 2,
    applies: (rig) => rig.moreReturns.length > 0,
    stage: { pumpStands: 0 },
  },
  {
    id: "other pump stands",
    name: "the other return pump stops, the main one runs on",
    changes: "the first of the other return pumps stands, and its riser runs back",
    ordinary: 2,
    applies: (rig) => rig.moreReturns.length > 0,
    stage: { pumpStands: 1 },
  },
  {
    id: "valve left closed",
    name: "return valve left almost closed after service",
    changes: "3 % of the valve is open at restart",
    ordinary: 1,
    applies: () => true,
    alterAtRestart: (rig) => ({ ...rig, return: { ...rig.return, valveOpenShare: NEARLY_CLOSED_SHARE } }),
  },
];

/**
 * Hole that represents a dripping bulkhead: diameter [m], and height above the display's bottom [m]. It is not in the
 * matrix because a drip does not flood at once.
 */
export const DRIP_HOLE = { diameterM: DRIP_HOLE_M, heightM: 0.1 } as const;

/** Faults that can occur in this rig and belong in its matrix. */
export function faultsFor(rig: Rig): Fault[] {
  return FAULTS.filter((fault) => fault.applies(rig)).map(describe);
}

function describe({ id, name, changes, ordinary }: Fault): Fault {
  return { id, name, changes, ordinary };
}

export interface FaultyRig {
  /** As filled and set by the installer: only the fill differs. */
  readonly before: Rig;
  /** With everything that is broken while running and during the outage. */
  readonly broken: Rig;
  readonly atRestart: Rig;
  readonly stage: StageEffects;
  readonly drips: boolean;
}

/**
 * Applies faults in the order of the catalogue, so that the given order does not matter. Faults that do not apply
 * change nothing.
 */
export function withFaults(rig: Rig, ids: readonly FaultId[]): FaultyRig {
  const chosen = FAULTS.filter((fault) => ids.includes(fault.id) && fault.applies(rig));
  const before = chosen.reduce((resolved, fault) => fault.refill?.(resolved) ?? resolved, rig);
  const broken = chosen.reduce((resolved, fault) => fault.alter?.(resolved) ?? resolved, before);
  const atRestart = chosen.reduce((resolved, fault) => fault.alterAtRestart?.(resolved) ?? resolved, broken);
  const stage: StageEffects = Object.assign({}, ...chosen.map((fault) => fault.stage ?? {}));
  return { before, broken, atRestart, stage, drips: ids.includes("bulkhead drips") };
}

export function withRunningLevel(rig: Rig, runningLevelM: number): Rig {
  return { ...rig, sump: { ...rig.sump, runningLevelM } };
}

function withNozzle(rig: Rig, id: string, change: (nozzle: Nozzle) => Nozzle): Rig {
  return {
    ...rig,
    return: { ...rig.return, nozzles: rig.return.nozzles.map((nozzle) => (nozzle.id === id ? change(nozzle) : nozzle)) },
  };
}

/** The nozzle with the most water between its hole and its tip. */
function deepestHoled(rig: Rig): string {
  const plan = (nozzle: Nozzle) => {
    const display = rig.displays.find((candidate) => candidate.id === nozzle.display);
    return display ? display.lengthM * display.widthM : 0;
  };
  const holed = rig.return.nozzles.filter((nozzle) => nozzle.breakHole !== null);
  const hidden = (nozzle: Nozzle) => plan(nozzle) * ((nozzle.breakHole?.z ?? 0) - nozzle.tipZ);
  return holed.reduce((best, nozzle) => (hidden(nozzle) > hidden(best) ? nozzle : best)).id;
}

function deepest(rig: Rig): string {
  return rig.return.nozzles.reduce((best, nozzle) => (nozzle.tipZ < best.tipZ ? nozzle : best)).id;
}

/** Whether a check valve is counted on anywhere. */
export function trustsValve(rig: Rig): boolean {
  return [rig.return, ...rig.moreReturns].some(({ checkValve }) => checkValve === "seals" || checkValve === "weeps");
}

/** The rig with every check valve open. */
export function valvesStuckOpen(rig: Rig): Rig {
  const open = (line: ReturnLine): ReturnLine => (line.checkValve === "none" ? line : { ...line, checkValve: "stuck open" });
  return { ...rig, return: open(rig.return), moreReturns: rig.moreReturns.map(open) };
}

const overflowsOf = (rig: Rig): readonly Overflow[] =>
  [...rig.displays].sort((a, b) => b.lengthM * b.widthM - a.lengthM * a.widthM).flatMap((display) => display.overflows);

const isStandpipe = ({ kind, inletM }: Drain): boolean => kind === "open" && inletM > STANDS_M;

/** Overflows with a standpipe; those without a box come first, because losing theirs drains the tank. */
const standpipes = (rig: Rig): readonly Overflow[] =>
  overflowsOf(rig)
    .filter(({ drains }) => drains.some(isStandpipe))
    .sort((a, b) => Number(b.kind === "standpipe") - Number(a.kind === "standpipe"));

const tallest = (rig: Rig): Overflow => standpipes(rig)[0];

/** Overflows whose box stands inside the tank. */
const boxed = (rig: Rig): readonly Overflow[] => overflowsOf(rig).filter(({ kind, box }) => kind === "drilled" && box.inside);

/** The drains without the widest standpipe: its drain opens at floor level. */
function fallen(drains: readonly Drain[]): readonly Drain[] {
  const widest = drains.filter(isStandpipe).reduce((best, drain) => (drain.boreM > best.boreM ? drain : best));
  return drains.map((drain) => (drain === widest ? { ...drain, inletM: HOLE_EDGE_M } : drain));
}

function withOverflow(rig: Rig, id: string, change: (overflow: Overflow) => Overflow): Rig {
  return {
    ...rig,
    displays: rig.displays.map((display) => ({
      ...display,
      overflows: display.overflows.map((overflow) => (overflow.id === id ? change(overflow) : overflow)),
    })),
  };
}

/** The open outlet with the smallest depth below the crest of its tank. */
function shallowest(rig: Rig): string {
  const crests = new Map(rig.displays.map(({ id, overflows }) => [id, Math.min(...overflows.map(({ crestZ }) => crestZ))]));
  const depthM = ({ display, tipZ }: Nozzle) => (crests.get(display) ?? tipZ) - tipZ;
  const open = rig.return.nozzles.filter(({ openShare }) => openShare > 0);
  return open.reduce((best, nozzle) => (depthM(nozzle) < depthM(best) ? nozzle : best)).id;
}

/** The rig with the widest working drain of one display closed while it runs. */
export function withBlockedDrain(rig: Rig, displayId: string): FaultyRig {
  const blocked = withDrain(rig, (drain) => ({ ...drain, openShare: 0 }), displayId);
  return { before: rig, broken: blocked, atRestart: blocked, stage: {}, drips: false };
}

/** Changes the widest drain that is not a dry emergency pipe, of all displays or of one. */
function withDrain(rig: Rig, change: (drain: Drain) => Drain, displayId?: string): Rig {
  const drains = rig.displays
    .filter(({ id }) => displayId === undefined || id === displayId)
    .flatMap((display) => display.overflows)
    .flatMap((overflow) => overflow.drains);
  const working = drains.filter((drain) => drain.kind !== "dry emergency");
  const widest = (working.length > 0 ? working : drains).reduce((best, drain) => (drain.boreM > best.boreM ? drain : best));
  return {
    ...rig,
    displays: rig.displays.map((display) => ({
      ...display,
      overflows: display.overflows.map((overflow) => ({
        ...overflow,
        drains: overflow.drains.map((drain) => (drain.id === widest.id ? change(drain) : drain)),
      })),
    })),
  };
}
