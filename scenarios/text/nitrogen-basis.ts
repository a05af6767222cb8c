// The basis of a test-kit scale in "ppm": the same water reads 1.0 as N and 4.4 as NO3.
import {
  AMMONIA_G_PER_MOL,
  AMMONIUM_G_PER_MOL,
  NITRATE_G_PER_MOL,
  NITRITE_G_PER_MOL,
  NITROGEN_G_PER_MOL,
} from "../../models/water/molar-mass.ts";

/** The basis that a leaflet prints beside its scale. `unknown`: the leaflet does not say. */
export const AMMONIA_BASES = ["NH3", "NH4", "TAN", "NH3-N", "NH4-N", "unknown"] as const;
export const NITRITE_BASES = ["NO2", "NO2-N", "unknown"] as const;
export const NITRATE_BASES = ["NO3", "NO3-N", "unknown"] as const;
export type AmmoniaBasis = (typeof AMMONIA_BASES)[number];
export type NitriteBasis = (typeof NITRITE_BASES)[number];
export type NitrateBasis = (typeof NITRATE_BASES)[number];
export type NitrogenBasis = AmmoniaBasis | NitriteBasis | NitrateBasis | "N";

const MASS_PER_N: Readonly<Record<Exclude<NitrogenBasis, "unknown">, number>> = {
  N: 1,
  TAN: 1,
  "NH3-N": 1,
  "NH4-N": 1,
  "NO2-N": 1,
  "NO3-N": 1,
  NH3: AMMONIA_G_PER_MOL / NITROGEN_G_PER_MOL,
  NH4: AMMONIUM_G_PER_MOL / NITROGEN_G_PER_MOL,
  NO2: NITRITE_G_PER_MOL / NITROGEN_G_PER_MOL,
  NO3: NITRATE_G_PER_MOL / NITROGEN_G_PER_MOL,
};

/**
 * Mass on the given basis per gram of nitrogen: 1.2159 for NH3, 1.2878 for NH4, 3.2845 for NO2, 4.4267 for NO3.
 * `unknown` has no factor of its own: see `readingsOf`.
 */
export const massPerN = (basis: Exclude<NitrogenBasis, "unknown">): number => MASS_PER_N[basis];

/** The quantities that a test kit measures. */
export type Species = "ammonia" | "nitrite" | "nitrate";

/** The two extreme meanings of an unknown scale: as nitrogen, and as the heaviest ion for which kits are sold. */
export const UNKNOWN_SPAN = {
  ammonia: ["TAN", "NH4"],
  nitrite: ["NO2-N", "NO2"],
  nitrate: ["NO3-N", "NO3"],
} as const satisfies Readonly<Record<Species, readonly NitrogenBasis[]>>;

/** All possible bases of a scale: one when it is known, two when it is not. */
export const readingsOf = (species: Species, basis: NitrogenBasis): readonly Exclude<NitrogenBasis, "unknown">[] =>
  basis === "unknown" ? UNKNOWN_SPAN[species] : [basis];
