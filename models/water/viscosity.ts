import { pow } from "../../sim/elementary.ts";
import { densityKgPerM3 } from "./density.ts";
import { ZERO_CELSIUS_K } from "./temperature.ts";

/** Dynamic viscosity of pure water at 0.1 MPa, Pa s, 0-100 °C. Source: IAPWS SR6-08(2011), Table 7 form (within 1 % of IAPWS R12-08). */
function pureWaterViscosityPaS(temperatureC: number): number {
  const reduced = (temperatureC + ZERO_CELSIUS_K) / 300;
  return (
    1e-6 *
    (280.68 * pow(reduced, -1.9) + 511.45 * pow(reduced, -7.7) + 61.131 * pow(reduced, -19.6) + 0.45903 * pow(reduced, -40))
  );
}

/**
 * Dynamic viscosity of fresh to salt water, Pa s, 0-40 °C, 0-45 g/kg.
 * Source: pure water as IAPWS SR6-08; sea salt by Isdale et al. (1972) as refitted in Sharqawy, Lienhard & Zubair (2010), eq. 22 (coefficients from memory).
 */
export function dynamicViscosityPaS(temperatureC: number, salinityGPerKg: number): number {
  const s = salinityGPerKg / 1000;
  const t = temperatureC;
  const a = 1.541 + t * (1.998e-2 - t * 9.52e-5);
  const b = 7.974 + t * (-7.561e-2 + t * 4.724e-4);
  return pureWaterViscosityPaS(t) * (1 + s * (a + b * s));
}

/** Kinematic viscosity, m²/s. */
export function kinematicViscosityM2PerS(temperatureC: number, salinityGPerKg: number): number {
  return dynamicViscosityPaS(temperatureC, salinityGPerKg) / densityKgPerM3(temperatureC, salinityGPerKg);
}

/**
 * Surface tension of clean water against air, N/m, 0-100 °C. Source: IAPWS R1-76(2014). Sea salt raises it by less than 1.5 %
 * (Nayar et al. 2014, from memory) and surfactants in a stocked tank lower it; the model neglects both.
 */
export function surfaceTensionNPerM(temperatureC: number): number {
  const tau = 1 - (temperatureC + ZERO_CELSIUS_K) / 647.096;
  return 0.2358 * pow(tau, 1.256) * (1 - 0.625 * tau);
}
