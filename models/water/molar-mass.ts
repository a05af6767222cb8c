// Molar masses, g/mol. Conventional atomic masses of IUPAC (Prohaska et al. 2022, Pure Appl. Chem. 94:573, table 2; from memory).
const N = 14.007;
const H = 1.008;
const O = 15.999;
const C = 12.011;

export const NITROGEN_G_PER_MOL = N;
export const OXYGEN_GAS_G_PER_MOL = 2 * O;
export const AMMONIA_G_PER_MOL = N + 3 * H;
export const AMMONIUM_G_PER_MOL = N + 4 * H;
export const NITRITE_G_PER_MOL = N + 2 * O;
export const NITRATE_G_PER_MOL = N + 3 * O;
export const CARBON_DIOXIDE_G_PER_MOL = C + 2 * O;
/** Of Cl2, because chloramine is measured as chlorine. */
export const CHLORINE_GAS_G_PER_MOL = 2 * 35.45;
/** Of HCO3, which carries one equivalent per mole, as sodium bicarbonate does. */
export const BICARBONATE_G_PER_MOL = H + C + 3 * O;
export const SODIUM_BICARBONATE_G_PER_MOL = 22.99 + BICARBONATE_G_PER_MOL;
export const CALCIUM_CARBONATE_G_PER_MOL = 40.078 + C + 3 * O;

/** Grams of calcium carbonate that carry one equivalent of alkalinity (half a mole). */
export const CALCIUM_CARBONATE_G_PER_EQ = CALCIUM_CARBONATE_G_PER_MOL / 2;

/** Alkalinity of one German degree [eq/m³]: 10 g CaO/m³ at two equivalents per mole. */
export const EQ_PER_M3_PER_DKH = 20 / (40.078 + O);

/** Mass of ammonia per mass of nitrogen, g NH3 per g N. */
export const AMMONIA_PER_N = AMMONIA_G_PER_MOL / N;

/**
 * Oxygen demand of NH4+ to NO3- without growth, g O2 per g N: two moles of O2 per mole of N (exact stoichiometry;
 * textbooks give 4.57).
 */
export const NITRIFICATION_OXYGEN_G_PER_G_N = (2 * OXYGEN_GAS_G_PER_MOL) / N;
