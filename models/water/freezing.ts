// Freezing point of water.

/**
 * Freezing point of sea water at one atmosphere [°C]: -0.0575 S + 1.710523e-3 S^1.5 - 2.154996e-4 S^2, S in practical salinity 4 to 40
 * (Millero & Leung 1976, as adopted in UNESCO Technical Papers in Marine Science 44, 1983; from memory); 0 for fresh water.
 */
export const freezingC = (salinityGPerKg: number): number =>
  salinityGPerKg * (-0.0575 + 1.710523e-3 * Math.sqrt(salinityGPerKg) - 2.154996e-4 * salinityGPerKg);
