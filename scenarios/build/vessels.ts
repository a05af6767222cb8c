// The inside dimensions of a glass box from its outside dimensions, and the objects in it.
import type { Displacement } from "../../models/rig.ts";
import type { Scenario } from "../schema/schema.ts";
import * as format from "../text/format.ts";
import type { Notes } from "../text/notes.ts";
import { COMMON } from "../text/reasons.ts";

type TankText = Scenario["tank"][number];
type SumpText = Scenario["sump"];
type JoinedText = SumpText["joined"][number];

export interface Box {
  readonly lengthM: number;
  readonly widthM: number;
  readonly heightM: number;
  readonly glassM: number;
}

/** Usual wall thickness by height [m] (common practice, no published source; not a statement on strength). */
const WALLS_M: readonly (readonly [upToHeightM: number, thicknessM: number])[] = [
  [0.3, 0.005],
  [0.4, 0.006],
  [0.5, 0.008],
  [0.6, 0.01],
  [0.75, 0.012],
  [0.9, 0.015],
  [Number.POSITIVE_INFINITY, 0.019],
];

/**
 * Inside dimensions of a tank or sump, whichever were measured. The top is open, so the height is reduced by one
 * thickness only.
 */
export function insideOf(vessel: TankText | SumpText | JoinedText, key: string, notes: Notes): Box {
  const [length, width, height] = (vessel.inside ?? vessel.outside)!;
  const usual = WALLS_M.find(([upTo]) => height <= upTo)![1];
  const glassM = notes.or(vessel.glass, `${key}.glass`, usual, format.length(usual), `${COMMON}, by height`);
  return vessel.inside
    ? { lengthM: length, widthM: width, heightM: height, glassM }
    : { lengthM: length - 2 * glassM, widthM: width - 2 * glassM, heightM: height - glassM, glassM };
}

/** Grains fill 60 % of a gravel bed (common practice, no published source). */
const GRAIN_SHARE = 0.6;
/** Share of the height above the gravel over which rock is distributed (modelling assumption). */
const ROCK_HEIGHT_SHARE = 0.6;

/** Volume displaced in a tank by gravel, rock and an internal overflow box. */
export function tankDisplacements(
  tank: TankText,
  box: Box,
  rockM3: number,
  overflowBoxes: readonly Displacement[],
): readonly Displacement[] {
  const planM2 = box.lengthM * box.widthM;
  const rockM = ROCK_HEIGHT_SHARE * (box.heightM - tank.gravel);
  return [
    ...(tank.gravel > 0 ? [{ fromM: 0, toM: tank.gravel, areaM2: GRAIN_SHARE * planM2 }] : []),
    ...(rockM3 > 0 ? [{ fromM: tank.gravel, toM: tank.gravel + rockM, areaM2: rockM3 / rockM }] : []),
    ...overflowBoxes,
  ];
}
