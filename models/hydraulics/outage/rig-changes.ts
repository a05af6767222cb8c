// Changes of a rig that faults and remedies make: which nozzle, drain, overflow or body is meant, and the rig with it changed.

import {
  type BranchBody,
  type Drain,
  type Nozzle,
  nozzlesOf,
  type Overflow,
  type ReturnBranch,
  type ReturnLine,
  type Rig,
  returnLines,
  withLines,
} from "../../rig.ts";

/** A drain is a standpipe if its mouth is higher than this above the floor [m]. */
const STANDS_M = 0.03;
/** Height of the edge of a drilled hole above the floor without its standpipe [m]. */
const HOLE_EDGE_M = 0.002;

export function withRunningLevel(rig: Rig, runningLevelM: number): Rig {
  return { ...rig, sump: { ...rig.sump, runningLevelM } };
}

export const highestIntakeM = (rig: Rig): number => Math.max(...returnLines(rig).map(({ pump }) => pump.intakeM));

export const withNozzle = (rig: Rig, id: string, change: (nozzle: Nozzle) => Nozzle): Rig =>
  withLines(rig, (line) => ({ ...line, nozzles: line.nozzles.map((nozzle) => (nozzle.id === id ? change(nozzle) : nozzle)) }));

export const withBody = (rig: Rig, id: string, change: (body: BranchBody) => BranchBody): Rig =>
  withLines(rig, (line) => ({
    ...line,
    branches: line.branches.map((branch) =>
      branch.id === id && branch.body ? { ...branch, body: change(branch.body) } : branch,
    ),
  }));

/** The body outside the sump that is fed most generously, by the bore of its feed; undefined if there is none. */
export const bodyOutside = (rig: Rig, lid: BranchBody["lid"]): ReturnBranch | undefined =>
  returnLines(rig)
    .flatMap(({ branches }) => branches)
    .filter(({ body }) => body?.lid === lid && body.stands === "beside the sump")
    .sort((a, b) => b.boreM - a.boreM)[0];

/** The nozzle with the most water between its hole and its tip. */
export function deepestHoled(rig: Rig): string {
  const plan = (nozzle: Nozzle) => {
    const display = rig.displays.find((candidate) => candidate.id === nozzle.display);
    return display ? display.lengthM * display.widthM : 0;
  };
  const holed = nozzlesOf(rig).filter((nozzle) => nozzle.breakHole !== null);
  const hidden = (nozzle: Nozzle) => plan(nozzle) * ((nozzle.breakHole?.z ?? 0) - nozzle.tipZ);
  return holed.reduce((best, nozzle) => (hidden(nozzle) > hidden(best) ? nozzle : best)).id;
}

export function deepest(rig: Rig): string {
  return nozzlesOf(rig).reduce((best, nozzle) => (nozzle.tipZ < best.tipZ ? nozzle : best)).id;
}

/** Whether a check valve is counted on anywhere. */
export function trustsValve(rig: Rig): boolean {
  return returnLines(rig).some(({ checkValve }) => checkValve === "seals" || checkValve === "weeps");
}

/** The rig with every check valve open. */
export function valvesStuckOpen(rig: Rig): Rig {
  const open = (line: ReturnLine): ReturnLine => (line.checkValve === "none" ? line : { ...line, checkValve: "stuck open" });
  return withLines(rig, open);
}

const overflowsOf = (rig: Rig): readonly Overflow[] =>
  [...rig.displays].sort((a, b) => b.lengthM * b.widthM - a.lengthM * a.widthM).flatMap((display) => display.overflows);

const isStandpipe = ({ kind, inletM }: Drain): boolean => kind === "open" && inletM > STANDS_M;

/** Overflows with a standpipe; those without a box come first, because losing theirs drains the tank. */
export const standpipes = (rig: Rig): readonly Overflow[] =>
  overflowsOf(rig)
    .filter(({ drains }) => drains.some(isStandpipe))
    .sort((a, b) => Number(b.kind === "standpipe") - Number(a.kind === "standpipe"));

export const tallest = (rig: Rig): Overflow => standpipes(rig)[0];

/** Overflows whose box stands inside the tank. */
export const boxed = (rig: Rig): readonly Overflow[] =>
  overflowsOf(rig).filter(({ kind, box }) => kind === "drilled" && box.inside);

/** The drains without the widest standpipe: its drain opens at floor level. */
export function fallen(drains: readonly Drain[]): readonly Drain[] {
  const widest = drains.filter(isStandpipe).reduce((best, drain) => (drain.boreM > best.boreM ? drain : best));
  return drains.map((drain) => (drain === widest ? { ...drain, inletM: HOLE_EDGE_M } : drain));
}

export function withOverflow(rig: Rig, id: string, change: (overflow: Overflow) => Overflow): Rig {
  return {
    ...rig,
    displays: rig.displays.map((display) => ({
      ...display,
      overflows: display.overflows.map((overflow) => (overflow.id === id ? change(overflow) : overflow)),
    })),
  };
}

/** The first line in which several open outlets leave the riser at tees; null if there is none. */
export const teed = (rig: Rig): ReturnLine | null =>
  returnLines(rig).find(
    ({ nozzles }) => nozzles.filter(({ branch, openShare }) => branch !== null && openShare > 0).length > 1,
  ) ?? null;

/** The open outlet of a line with the smallest depth below the crest of its tank. */
export function shallowest(rig: Rig, { nozzles }: ReturnLine): string {
  const crests = new Map(rig.displays.map(({ id, overflows }) => [id, Math.min(...overflows.map(({ crestZ }) => crestZ))]));
  const depthM = ({ display, tipZ }: Nozzle) => (crests.get(display) ?? tipZ) - tipZ;
  const open = nozzles.filter(({ openShare }) => openShare > 0);
  return open.reduce((best, nozzle) => (depthM(nozzle) < depthM(best) ? nozzle : best)).id;
}

/** Changes the widest drain that is not a dry emergency pipe, of all displays or of one. */
export function withDrain(rig: Rig, change: (drain: Drain) => Drain, displayId?: string): Rig {
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
