// From the outside of a glass box to its inside, and what stands in it.
import type { Displacement } from "../../models/rig.ts";
import type { Scenario } from "../schema/schema.ts";
import * as format from "../text/format.ts";
import { COMMON } from "../text/reasons.ts";
import type { Notes } from "./notes.ts";

type TankText = Scenario["tank"][number];
type SumpText = Scenario["sump"];

export interface Box {
  readonly lengthM: number;
  readonly widthM: number;
  readonly heightM: number;
  readonly glassM: number;
}

/** Usual wall thickness for a height [m] (common practice, no published source; no verdict on strength). */
const WALLS_M: readonly (readonly [upToHeightM: number, thicknessM: number])[] = [
  [0.3, 0.005],
  [0.4, 0.006],
  [0.5, 0.008],
  [0.6, 0.01],
  [0.75, 0.012],
  [0.9, 0.015],
  [Number.POSITIVE_INFINITY, 0.019],
];

/** Inside of a tank or sump, whichever side was measured; the top is open, so the height loses one thickness. */
export function insideOf(vessel: TankText | SumpText, key: string, notes: Notes): Box {
  const [length, width, height] = (vessel.inside ?? vessel.outside)!;
  const usual = WALLS_M.find(([upTo]) => height <= upTo)![1];
  const glassM = notes.or(vessel.glass, `${key}.glass`, usual, format.length(usual), `${COMMON}, by height`);
  return vessel.inside
    ? { lengthM: length, widthM: width, heightM: height, glassM }
    : { lengthM: length - 2 * glassM, widthM: width - 2 * glassM, heightM: height - glassM, glassM };
}

/** Grains take 60 % of a gravel bed (common practice, no published source). */
const GRAIN_SHARE = 0.6;
/** Rock is spread over this share of the height above the gravel (modelling assumption). */
const ROCK_HEIGHT_SHARE = 0.6;

/** Room taken in a tank by gravel, rock and an overflow box that stands in it. */
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
