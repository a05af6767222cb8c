/** 0 °C in kelvin. */
export const ZERO_CELSIUS_K = 273.15;

/**
 * IPTS-68 temperature, °C, from an ITS-90 temperature: t68 = 1.00024 t90 (Saunders 1990, WOCE Newsletter 10). Older
 * sea-water fits use IPTS-68.
 */
export function ipts68FromIts90(temperatureC: number): number {
  return 1.00024 * temperatureC;
}
