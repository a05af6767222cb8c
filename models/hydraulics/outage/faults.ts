// Faults as data: name, likelihood, and effect.

import { nozzlesOf, type Rig } from "../../rig.ts";
import type { Fault, FaultId } from "../types.ts";
import {
  bodyOutside,
  boxed,
  deepest,
  deepestHoled,
  fallen,
  highestIntakeM,
  shallowest,
  standpipes,
  tallest,
  teed,
  trustsValve,
  valvesStuckOpen,
  withBody,
  withDrain,
  withNozzle,
  withOverflow,
  withRunningLevel,
} from "./rig-changes.ts";

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
  /** Its name where there are several return pumps. */
  readonly nameOfSeveral?: string;
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
const FAULTS: readonly FaultModel[] = [
  {
    id: "break hole blocked",
    name: "siphon-break hole blocked by a snail or by salt",
    changes: "the siphon-break hole over the most water is closed",
    ordinary: 3,
    applies: (rig) => nozzlesOf(rig).some((nozzle) => nozzle.breakHole !== null),
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
    applies: (rig) => teed(rig) !== null,
    alter: (rig) => withNozzle(rig, shallowest(rig, teed(rig)!), (nozzle) => ({ ...nozzle, openShare: 0 })),
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
    applies: (rig) => rig.sump.runningLevelM > highestIntakeM(rig) + NEARLY_DRY_M,
    refill: (rig) => withRunningLevel(rig, highestIntakeM(rig) + NEARLY_DRY_M),
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
    nameOfSeveral: "hose slipped off the main return pump",
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
    id: "sock blinded",
    name: "filter sock clogged, or fleece roll at its end",
    changes: "97 % of the cloth is blinded; the sock runs over",
    ordinary: 3,
    applies: (rig) => rig.sump.chambers.some(({ sock }) => sock !== null),
    alter: (rig) => ({
      ...rig,
      sump: {
        ...rig.sump,
        chambers: rig.sump.chambers.map((chamber) => ({
          ...chamber,
          sock: chamber.sock && { ...chamber.sock, blindedShare: BLINDED_SHARE },
        })),
      },
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
    name: "return pump hums but moves no water: stuck, or air in it",
    nameOfSeveral: "power back, but no return pump moves water",
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
    nameOfSeveral: "valve of the main return left almost closed after service",
    changes: "3 % of the valve is open at restart",
    ordinary: 1,
    applies: () => true,
    alterAtRestart: (rig) => ({ ...rig, return: { ...rig.return, valveOpenShare: NEARLY_CLOSED_SHARE } }),
  },
  {
    id: "reactor outlet blocked",
    name: "outlet of an open reactor or skimmer blocked",
    changes: "the outlet of the open body beside the sump with the widest feed is closed; it fills to its rim",
    ordinary: 2,
    applies: (rig) => bodyOutside(rig, "open") !== undefined,
    alter: (rig) => withBody(rig, bodyOutside(rig, "open")!.id, (body) => ({ ...body, outletOpenShare: 0 })),
  },
  {
    id: "reactor lid leaks",
    name: "lid of a reactor not tight after cleaning",
    changes: `an opening of ${SEAM_M2 * 1e6} mm2 under the lid of the closed body beside the sump with the widest feed`,
    ordinary: 2,
    applies: (rig) => bodyOutside(rig, "closed") !== undefined,
    alter: (rig) => withBody(rig, bodyOutside(rig, "closed")!.id, (body) => ({ ...body, leakM2: SEAM_M2 })),
  },
];

/**
 * Hole that represents a dripping bulkhead: diameter [m], and height above the display's bottom [m]. It is not in the
 * matrix because a drip does not flood at once.
 */
export const DRIP_HOLE = { diameterM: DRIP_HOLE_M, heightM: 0.1 } as const;

/** Faults that can occur in this rig and belong in its matrix. */
export function faultsFor(rig: Rig): Fault[] {
  return FAULTS.filter((fault) => fault.applies(rig)).map(({ id, name, nameOfSeveral, changes, ordinary }) => ({
    id,
    name: (rig.moreReturns.length > 0 && nameOfSeveral) || name,
    changes,
    ordinary,
  }));
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

/** The rig with the widest working drain of one display closed while it runs. */
export function withBlockedDrain(rig: Rig, displayId: string): FaultyRig {
  const blocked = withDrain(rig, (drain) => ({ ...drain, openShare: 0 }), displayId);
  return { before: rig, broken: blocked, atRestart: blocked, stage: {}, drips: false };
}
