// Composition of each substance, and the completion of process rows by conservation.
import { NITROGEN_G_PER_MOL, OXYGEN_GAS_G_PER_MOL } from "../../water/molar-mass.ts";
import { eachGuild, guilds } from "./guilds.ts";

/**
 * All substances that a process may produce or consume. Nitrogen species in g N, organics and biomass in g COD,
 * alkalinity in eq, carbon in mol.
 */
export const substances = [
  "tan",
  "no2",
  "no3",
  "o2",
  "alk",
  "dic", // dissolved
  "ss",
  "xs",
  "xd", // organics: dissolved, suspended, deposited
  "xh", // suspended heterotrophs
  ...guilds, // on surfaces
  "n2",
  "nh3air",
  "co2air",
  "plant", // sinks
  "foam", // waste removed by a foam fractionator
  "reserve", // metabolised by animals; its source is outside the balance
] as const;
export type Substance = (typeof substances)[number];

export const conserved = ["nitrogen", "oxygenDemand", "charge", "carbon"] as const;
export type Conserved = (typeof conserved)[number];

/** g COD per mole of carbon in organics: 32 at a respiratory quotient of 1 (glucose, and C5H7O2N to NH3). */
const COD_PER_MOL_C = 32;
/** N in biomass [g/g COD]: Hiatt & Grady (2008). */
const N_IN_BIOMASS = 0.086;
/** Heterotroph yield [g COD/g COD]: Henze et al. (2000) ASM2d, 0.63 (from memory). */
export const HETEROTROPH_YIELD = 0.63;
/**
 * N in organics: equal to the demand of heterotrophs for growth, so that growth neither consumes nor releases ammonia
 * and decay releases it (modelling assumption; the value, 0.054, is that of a feed with 42 % protein and 1.24 g COD/g).
 */
export const N_IN_ORGANICS = HETEROTROPH_YIELD * N_IN_BIOMASS;
/** Plant tissue: 6.7 % N of its COD (modelling assumption, about 1 part N to 15 parts COD). */
const COD_PER_PLANT_N = 15;

type Content = Readonly<Partial<Record<Conserved, number>>>;
const organics: Content = { nitrogen: N_IN_ORGANICS, oxygenDemand: 1, carbon: 1 / COD_PER_MOL_C };
const biomass: Content = { nitrogen: N_IN_BIOMASS, oxygenDemand: 1, carbon: 1 / COD_PER_MOL_C };
/** Oxidation states as oxygen demand relative to ammonia: 1.5, 2 and 0.75 mol O2 per mol N for nitrite, nitrate and N2. */
export const content: Readonly<Record<Substance, Content>> = {
  tan: { nitrogen: 1, charge: 1 / NITROGEN_G_PER_MOL },
  no2: { nitrogen: 1, oxygenDemand: (-1.5 * OXYGEN_GAS_G_PER_MOL) / NITROGEN_G_PER_MOL, charge: -1 / NITROGEN_G_PER_MOL },
  no3: { nitrogen: 1, oxygenDemand: (-2 * OXYGEN_GAS_G_PER_MOL) / NITROGEN_G_PER_MOL, charge: -1 / NITROGEN_G_PER_MOL },
  o2: { oxygenDemand: -1 },
  alk: { charge: -1 },
  dic: { carbon: 1 },
  ss: organics,
  xs: organics,
  xd: organics,
  xh: biomass,
  ...eachGuild(() => biomass),
  n2: { nitrogen: 1, oxygenDemand: (-0.75 * OXYGEN_GAS_G_PER_MOL) / NITROGEN_G_PER_MOL },
  nh3air: { nitrogen: 1 },
  co2air: { carbon: 1 },
  foam: organics,
  reserve: { oxygenDemand: 1, carbon: 1 / COD_PER_MOL_C },
  plant: { nitrogen: 1, oxygenDemand: COD_PER_PLANT_N, carbon: COD_PER_PLANT_N / COD_PER_MOL_C },
};

export type Stoichiometry = Readonly<Partial<Record<Substance, number>>>;

/** Sum of coefficient × content over a row; zero when the row conserves `quantity`. */
export function imbalance(row: Stoichiometry, quantity: Conserved): number {
  let sum = 0;
  for (const [substance, coefficient] of Object.entries(row) as [Substance, number][])
    sum += coefficient * (content[substance][quantity] ?? 0);
  return sum;
}

/**
 * Completes a row: each named substance gets the coefficient that balances its quantity, in the given order.
 * @throws Error when a substance does not contain its quantity
 */
export function close(known: Stoichiometry, by: readonly (readonly [Conserved, Substance])[]): Stoichiometry {
  const row: Partial<Record<Substance, number>> = { ...known };
  for (const [quantity, substance] of by) {
    const missing = imbalance(row, quantity);
    const each = content[substance][quantity];
    if (!each) throw new Error(`${substance} contains no ${quantity} and cannot close it`);
    row[substance] = (row[substance] ?? 0) - missing / each;
  }
  return row;
}
