// What is left of bacteria on media, gravel or in a bottle once they are in another tank.
import { exp, pow } from "../../sim/elementary.ts";

/** How a seed is kept on its way: wet with air, dried, or shut in a bottle, where the oxygen is soon gone. */
export type TransportCondition = "wet" | "dried" | "bottled";

export interface SeedOrigin {
  /** Salinity of the water it lived in [g/kg]. */
  readonly salinityGPerKg: number;
  /** Temperature on the way [°C], and how long it takes [h]. */
  readonly temperatureC: number;
  readonly hours: number;
  readonly kept: TransportCondition;
}

/** Of nitrifiers moved into saltier water, a tenth works at 15 g/kg more and nothing at 25 (Kinyage & Pedersen 2019: 0.10 to 0.01 g N/m2/d at 15 ppt). */
const LEFT_AT_15 = 0.1;
/** More than this much saltier leaves none to count. */
const NOTHING_AT_G_PER_KG = 25;
/** Something always lives on (modelling assumption); what remains is less than a stray cell brings. */
const LEAST = 1e-4;
/** Starved nitrifiers, 1/d at 20 °C: 0.2 in water with air, 0.03 without oxygen (Siegrist et al. 1999); θ of decay 1.06 (42 kJ/mol). */
const LOSS_PER_DAY = { wet: 0.2, dried: 0.2, bottled: 0.03 } as const;
const THETA = 1.06;
/** Nitrifiers on media that dried out: as in a power cut, where four fifths are taken as lost. */
const LEFT_WHEN_DRIED = 0.2;

/**
 * Share of a seed's nitrifiers that lives on in the new tank, 0..1. Cultures of sea water bear fresh water (Gonzalez-Silva et al. 2021), fresh ones not
 * the sea. A difference in temperature costs nothing by itself (modelling assumption): the guilds sort themselves out as they grow.
 */
export function survivingShare(origin: SeedOrigin, salinityGPerKg: number): number {
  const saltier = Math.max(0, salinityGPerKg - origin.salinityGPerKg);
  const water = saltier >= NOTHING_AT_G_PER_KG ? 0 : pow(LEFT_AT_15, saltier / 15);
  const way = exp((-LOSS_PER_DAY[origin.kept] * pow(THETA, origin.temperatureC - 20) * origin.hours) / 24);
  return Math.max(LEAST, water * way * (origin.kept === "dried" ? LEFT_WHEN_DRIED : 1));
}
