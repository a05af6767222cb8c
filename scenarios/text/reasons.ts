// Reasons that many defaults share.
export const COMMON = "common practice, no published source";
export const ASSUMED = "modelling assumption";
