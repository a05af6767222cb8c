// An air stone in the tank.
import { airStoneKlaPerDay } from "../../models/gas/surface-exchange.ts";
import type { Display } from "../../models/rig.ts";
import { oneOf } from "../fields/fields.ts";
import { eventFormat } from "./event-format.ts";

/** Strength of an air stone. */
export const AIR_STONES = ["none", "gentle", "strong"] as const;
/** Air flow of an air stone [m³/h] (common practice, no published source). */
export const AIR_STONE_M3_PER_H = { none: 0, gentle: 0.06, strong: 0.24 } as const;
/** Share of its oxygen that a coarse bubble transfers per metre of depth (water-engineering practice, from memory). */
const COARSE_BUBBLE_PER_M = 0.02;

/** Oxygen transfer coefficient of an air stone in a display [1/d]. */
export function airStoneTransferPerDay(stone: (typeof AIR_STONES)[number], display: Display, temperatureC: number): number {
  if (stone === "none") return 0;
  const volumeM3 = display.lengthM * display.widthM * display.heightM;
  return airStoneKlaPerDay(AIR_STONE_M3_PER_H[stone], display.heightM * 0.8, volumeM3, COARSE_BUBBLE_PER_M, temperatureC);
}

export const airStone = eventFormat({
  name: "air stone",
  about: "An air stone in the tank, turned on, up or off.",
  keys: { strength: oneOf(AIR_STONES, "how strongly it bubbles from now on") },
  build: (e, { display, temperatureC }) => ({
    body: { kind: "air stone", transferPerDay: airStoneTransferPerDay(e.strength, display, temperatureC) },
    label: e.strength === "none" ? "air stone off" : `${e.strength} air stone`,
  }),
  inWords: (e) => (e.strength === "none" ? "Air stone off" : `Air stone on${e.strength ? `, ${e.strength}` : ""}`),
});
