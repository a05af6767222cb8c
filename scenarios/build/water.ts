// Concentrations, tap water and starting water: converts kit scales to nitrogen and adds salt to tap water.
import type { TapWater, WaterQuality } from "../../models/nitrogen/management.ts";
import { densityKgPerM3 } from "../../models/water/density.ts";
import { EQ_PER_M3_PER_DKH } from "../../models/water/molar-mass.ts";
import type { Concentration } from "../fields/fields.ts";
import type { Scenario } from "../schema/schema.ts";
import * as format from "../text/format.ts";
import { massPerN, type NitrogenBasis, readingsOf, type Species } from "../text/nitrogen-basis.ts";
import type { Notes } from "../text/notes.ts";
import { COMMON } from "../text/reasons.ts";

/** The interpretation of an unknown scale in this run. */
export type UnknownScale = "nitrogen" | "ion";

type TapText = Scenario["tap"];

/** Converts written concentrations to g N/m³. */
export interface Scales {
  nitrogen(species: Species, written: Concentration): number;
}

/** @param unknown the interpretation of a scale that nobody knows */
export function scalesOf(kit: Scenario["kit"], unknown: UnknownScale): Scales {
  return {
    nitrogen(species, { gPerM3, basis }) {
      const meant = (basis ?? kit[species]) as NitrogenBasis;
      const readings = readingsOf(species, meant);
      return gPerM3 / massPerN(readings[unknown === "nitrogen" ? 0 : readings.length - 1]!);
    },
  };
}

/** Salinity from which defaults for sea water apply instead of those for fresh water [g/kg]. */
export const MARINE_FROM_G_PER_KG = 10;
/** Chloride per salinity: 19.353 g/kg in sea water of 35 g/kg (reference composition, Millero et al. 2008, table 4). */
const CHLORIDE_PER_SALINITY = 19.353 / 35;
const saltChlorideGPerM3 = (salinityGPerKg: number): number =>
  CHLORIDE_PER_SALINITY * salinityGPerKg * densityKgPerM3(25, salinityGPerKg);

/** Tap water as it enters the system: with salt when the system has salt. */
export function tapWater(tap: TapText, key: string, water: Scenario["water"], scales: Scales, notes: Notes): TapWater {
  const marine = water.salinity >= MARINE_FROM_G_PER_KG;
  const salted = marine ? ", salted" : "";
  return {
    ph: notes.or(tap.ph, `${key}.ph`, marine ? 8.2 : 7.6, marine ? "8.2" : "7.6", `${COMMON}${salted}`),
    alkalinityEqPerM3: notes.or(
      tap.kh,
      `${key}.kh`,
      (marine ? 8 : 6) * EQ_PER_M3_PER_DKH,
      marine ? "8 dKH" : "6 dKH",
      `${COMMON}${salted}`,
    ),
    temperatureC: notes.or<number | null>(
      tap.temperature,
      `${key}.temperature`,
      null,
      format.temperature(water.temperature),
      "as the tank",
    ),
    tanGPerM3: scales.nitrogen("ammonia", tap.ammonia),
    no2GPerM3: scales.nitrogen("nitrite", tap.nitrite),
    no3GPerM3: scales.nitrogen("nitrate", tap.nitrate),
    chlorideGPerM3: tap.chloride.gPerM3 + saltChlorideGPerM3(water.salinity),
    salinityGPerKg: water.salinity,
    chloramineGPerM3: tap.chloramine.gPerM3,
    treated: tap.conditioner,
  };
}

/** The water on day 0: as given, otherwise the (salted) tap water. */
export function startWater(water: Scenario["water"], tap: TapWater, scales: Scales, notes: Notes): WaterQuality {
  const n = (species: Species, written: Concentration | undefined, fromTap: number): number =>
    written ? scales.nitrogen(species, written) : fromTap;
  return {
    ph: notes.or(water.ph, "water.ph", tap.ph, format.plain(tap.ph), "as the tap"),
    alkalinityEqPerM3: notes.or(
      water.kh,
      "water.kh",
      tap.alkalinityEqPerM3,
      `${format.plain(tap.alkalinityEqPerM3 / EQ_PER_M3_PER_DKH)} dKH`,
      "as the tap",
    ),
    tanGPerM3: n("ammonia", water.ammonia, tap.tanGPerM3),
    no2GPerM3: n("nitrite", water.nitrite, tap.no2GPerM3),
    no3GPerM3: n("nitrate", water.nitrate, tap.no3GPerM3),
    chlorideGPerM3: water.chloride?.gPerM3 ?? tap.chlorideGPerM3,
    salinityGPerKg: water.salinity,
  };
}
