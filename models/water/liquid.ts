import { densityKgPerM3 } from "./density.ts";
import { dynamicViscosityPaS, surfaceTensionNPerM } from "./viscosity.ts";

/** Gravity, m/s² (standard). */
export const GRAVITY_M_PER_S2 = 9.80665;

/** Water properties that the packed-bed and film relations use. */
export interface Liquid {
  readonly densityKgPerM3: number;
  readonly viscosityPaS: number;
  readonly surfaceTensionNPerM: number;
}

/** Water properties at a temperature (°C) and salinity (g/kg). */
export function liquidAt(temperatureC: number, salinityGPerKg: number): Liquid {
  return {
    densityKgPerM3: densityKgPerM3(temperatureC, salinityGPerKg),
    viscosityPaS: dynamicViscosityPaS(temperatureC, salinityGPerKg),
    surfaceTensionNPerM: surfaceTensionNPerM(temperatureC),
  };
}
