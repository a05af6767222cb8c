// Diffusion coefficients in water: values at 25 °C in fresh water, scaled to other temperatures and salinities by Stokes-Einstein
// (D mu / T is constant).
import { SECONDS_PER_DAY } from "../../sim/time.ts";
import { ZERO_CELSIUS_K } from "./temperature.ts";
import { dynamicViscosityPaS } from "./viscosity.ts";

export type Solute =
  | "oxygen"
  | "carbonDioxide"
  | "bicarbonate"
  | "ammonium"
  | "ammonia"
  | "nitrite"
  | "nitrate"
  | "hydrogenSulphide"
  | "organic";

/**
 * Diffusion coefficients in fresh water at 25 °C, m²/s.
 * Oxygen: Cussler (1997), Table 5.2-1 (range of published values 2.0-2.4e-9). Carbon dioxide 1.92e-9: Cussler. Ions: Li & Gregory (1974),
 * Geochim. Cosmochim. Acta 38:703 (ammonium 1.96e-9 from Robinson & Stokes). Ammonia 1.64e-9 and sulphide 1.41e-9: Cussler. All from memory.
 * Organic: 1.0e-9 is the readily biodegradable substrate of the IWA biofilm benchmark rounded to 25 °C (from memory).
 */
const AT_25C_M2_PER_S: Readonly<Record<Solute, number>> = {
  oxygen: 2.1e-9,
  carbonDioxide: 1.92e-9,
  bicarbonate: 1.18e-9,
  ammonium: 1.96e-9,
  ammonia: 1.64e-9,
  nitrite: 1.91e-9,
  nitrate: 1.9e-9,
  hydrogenSulphide: 1.41e-9,
  organic: 1.0e-9,
};

const VISCOSITY_AT_25C_PA_S = dynamicViscosityPaS(25, 0);

/** Diffusion coefficient of a solute in free water, m²/s, by Stokes-Einstein scaling of the 25 °C value. */
export function diffusivityM2PerS(solute: Solute, temperatureC: number, salinityGPerKg: number): number {
  const scale = (temperatureC + ZERO_CELSIUS_K) / (25 + ZERO_CELSIUS_K);
  return (AT_25C_M2_PER_S[solute] * scale * VISCOSITY_AT_25C_PA_S) / dynamicViscosityPaS(temperatureC, salinityGPerKg);
}

/**
 * Diffusion coefficient inside a biofilm, m²/d, the unit of the biofilm literature: that of free water times a relative
 * diffusivity (0.5-0.8 for small solutes, Stewart 2003, J. Bacteriol. 185:1485, from memory).
 */
export function biofilmDiffusivityM2PerDay(
  solute: Solute,
  temperatureC: number,
  salinityGPerKg: number,
  relativeDiffusivity: number,
): number {
  return diffusivityM2PerS(solute, temperatureC, salinityGPerKg) * SECONDS_PER_DAY * relativeDiffusivity;
}
