// Molar masses, g/mol (IUPAC conventional atomic masses; facts, not a model choice).
const N = 14.0067;
const H = 1.00794;
const O = 15.999;
const C = 12.011;

export const NITROGEN_G_PER_MOL = N;
export const CARBON_G_PER_MOL = C;
export const OXYGEN_GAS_G_PER_MOL = 2 * O;
export const AMMONIA_G_PER_MOL = N + 3 * H;
export const AMMONIUM_G_PER_MOL = N + 4 * H;
export const NITRITE_G_PER_MOL = N + 2 * O;
export const NITROUS_ACID_G_PER_MOL = H + N + 2 * O;
export const NITRATE_G_PER_MOL = N + 3 * O;
export const CARBON_DIOXIDE_G_PER_MOL = C + 2 * O;
export const CALCIUM_CARBONATE_G_PER_MOL = 40.078 + C + 3 * O;
export const HYDROGEN_SULPHIDE_G_PER_MOL = 2 * H + 32.06;

/** Grams of calcium carbonate that carry one equivalent of alkalinity (half a mole). */
export const CALCIUM_CARBONATE_G_PER_EQ = CALCIUM_CARBONATE_G_PER_MOL / 2;

/** Oxygen for NH4+ to NO3- without growth, g O2 per g N: two moles of O2 per mole of N (exact stoichiometry, textbook 4.57). */
export const NITRIFICATION_OXYGEN_G_PER_G_N = (2 * OXYGEN_GAS_G_PER_MOL) / N;
