import { pow } from "../../sim/elementary.ts";
/** One standard atmosphere, Pa. */
export const STANDARD_ATMOSPHERE_PA = 101325;

/**
 * Mean air pressure, Pa, at an altitude in metres: ICAO standard atmosphere, troposphere (15 °C at sea level, lapse
 * rate 6.5 K/km). Valid for -400 to 5000 m; weather changes it by about ±2 % from day to day.
 */
export function airPressurePa(altitudeM: number): number {
  return STANDARD_ATMOSPHERE_PA * pow(1 - 2.25577e-5 * altitudeM, 5.25588);
}
