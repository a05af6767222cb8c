// Heat transfer through the walls of a tank.
import { cube, pow, square } from "../../sim/elementary.ts";
import { ZERO_CELSIUS_K } from "../water/temperature.ts";

export type WallMaterial = "glass" | "acrylic";

/** Thermal conductivity, W/(m K) (handbook values, from memory: soda-lime glass, cast acrylic). */
export const CONDUCTIVITY_W_PER_M_K: Readonly<Record<WallMaterial, number>> = { glass: 1.0, acrylic: 0.19 };

/** Film coefficient of slowly moving water inside the wall, W/(m² K) (order of magnitude, from memory). */
export const WATER_FILM_W_PER_M2_K = 200;

/** Surface resistances of still room air including radiation, m² K/W, by direction of the heat flow: EN ISO 6946. */
export const ROOM_FILM_M2_K_PER_W = { sideways: 0.13, upward: 0.1, downward: 0.17 } as const;

/** Surface resistance outdoors in wind, m² K/W: EN ISO 6946. */
export const OUTDOOR_FILM_M2_K_PER_W = 0.04;

/** Overall heat transfer coefficient of a wall, W/(m² K): water film, wall and air film in series. */
export function wallUWPerM2K(
  material: WallMaterial,
  thicknessM: number,
  airFilmM2KPerW: number,
  waterFilmWPerM2K: number = WATER_FILM_W_PER_M2_K,
): number {
  return 1 / (1 / waterFilmWPerM2K + thicknessM / CONDUCTIVITY_W_PER_M_K[material] + airFilmM2KPerW);
}

/**
 * Heat loss of a box tank below its water line, W/K: four wetted sides and the bottom on an open stand.
 * It does not include the open surface (see surfaceUWPerM2K and evaporation.ts).
 */
export function tankUaWPerK(
  lengthM: number,
  widthM: number,
  waterDepthM: number,
  thicknessM: number,
  material: WallMaterial,
): number {
  const sides = 2 * (lengthM + widthM) * waterDepthM * wallUWPerM2K(material, thicknessM, ROOM_FILM_M2_K_PER_W.sideways);
  const bottom = lengthM * widthM * wallUWPerM2K(material, thicknessM, ROOM_FILM_M2_K_PER_W.downward);
  return sides + bottom;
}

/**
 * Nusselt number of free convection on a vertical wall, all Rayleigh numbers: Churchill & Chu (1975), Int. J. Heat Mass
 * Transf. 18:1323, eq. 9.
 */
export function verticalWallNusselt(prandtl: number, grashof: number): number {
  const rayleigh = grashof * prandtl;
  return square(0.825 + (0.387 * pow(rayleigh, 1 / 6)) / pow(1 + pow(0.492 / prandtl, 9 / 16), 8 / 27));
}

/** Properties of air near a wall. */
export interface AirProperties {
  readonly filmTemperatureK: number;
  readonly kinematicViscosityM2PerS: number;
  readonly conductivityWPerMK: number;
  readonly prandtl: number;
}

/** Convective film coefficient of room air on a vertical wall, W/(m² K), from Churchill & Chu; beta = 1/T. */
export function wallConvectionWPerM2K(heightM: number, differenceK: number, air: AirProperties): number {
  const nu = air.kinematicViscosityM2PerS;
  const grashof = (9.80665 * differenceK * cube(heightM)) / (air.filmTemperatureK * nu * nu);
  return (verticalWallNusselt(air.prandtl, grashof) * air.conductivityWPerMK) / heightM;
}

/** Linearised radiation to the room, W/(m² K): 4 eps sigma T³ (Stefan-Boltzmann). */
export function radiationWPerM2K(emissivity: number, temperatureC: number): number {
  return 4 * emissivity * 5.670374e-8 * cube(temperatureC + ZERO_CELSIUS_K);
}

/**
 * Dry heat loss of an open water surface, W/(m² K): convection from evaporation by Bowen's ratio (0.0665 kPa/K at sea
 * level, Bowen 1926) plus radiation at an emissivity of 0.95.
 * @param evaporativeWPerM2Pa from evaporativeCoefficientWPerM2Pa, times the surface factor
 */
export function surfaceUWPerM2K(evaporativeWPerM2Pa: number, temperatureC: number): number {
  return 66.5 * evaporativeWPerM2Pa + radiationWPerM2K(0.95, temperatureC);
}
