// Coefficients of a tower: exchange of its water with its air, retention of its pad, and air exchange.
import { SECONDS_PER_DAY } from "../../../sim/time.ts";
import type { Rig, Tower } from "../../rig.ts";
import { ondaLiquidCoefficientMPerS } from "../../tower/onda.ts";
import { towerAirExchangeM3PerS } from "../../tower/ventilation.ts";
import { diffusivityM2PerS } from "../../water/diffusivity.ts";
import { liquidAt } from "../../water/liquid.ts";
import { OXYGEN_GAS_G_PER_MOL } from "../../water/molar-mass.ts";
import { airPressurePa } from "../../water/pressure.ts";
import { ZERO_CELSIUS_K } from "../../water/temperature.ts";
import type { CellCoefficients, GasCoefficients } from "../reactor/coefficients.ts";
import type { NitrogenModel } from "./nitrogen-model.ts";
import type { OperatingState } from "./operating-state.ts";
import { packingOf, planM2, wettedShareOf } from "./wetting.ts";

const GAS_CONSTANT = 8.314462618;
/** Mole fraction of oxygen in dry air. */
const O2_IN_AIR = 0.2095;
/** Henry constant of ammonia, gas over water concentration (about 7e-4 at 25 °C, from memory). */
const NH3_HENRY = 7e-4;
/**
 * Transfer velocity of ammonia through the air side of an open surface [m/d]: Henry times 1.5e-3 m/s, as derived from
 * evaporation of 2 mm a day into a room of 50 % humidity (two-film theory, Lewis & Whitman 1924).
 */
export const NH3_VELOCITY_M_PER_DAY = NH3_HENRY * 1.5e-3 * SECONDS_PER_DAY;
/**
 * Share of the suspended waste in the flow that a clean pad of each grade retains per pass, and media without a pad
 * (modelling assumption).
 */
const PAD_CAPTURE = { coarse: 0.3, medium: 0.5, fine: 0.7 } as const;
const MEDIA_CAPTURE = 0.05;

/**
 * Coefficients of tower number t: those of its cell that differ from stagnant water, and those of its gas space.
 * @param flows flow of each stream [m³/d]
 * @param areaM2 wetted area of its film
 */
export function towerCoefficients(
  aquarium: NitrogenModel,
  operating: OperatingState,
  t: number,
  flows: readonly number[],
  areaM2: number,
  volumeM3: number,
): { readonly cell: Partial<CellCoefficients>; readonly gas: GasCoefficients } {
  const { rig, management, layout, filmOf, towerCells } = aquarium;
  const { wiring } = layout;
  const tower = rig.towers[t];
  const cell = towerCells[t];
  const temperatureC = operating.temperatureC[cell];
  const salt = operating.salinityGPerKg;
  const flow = wiring.ways.reduce((sum, w, i) => sum + (w.to === cell ? flows[i] : 0), 0) / SECONDS_PER_DAY;
  const wetted = wettedShareOf(tower, rig, management, Math.max(flow, 1e-7), operating.wettedShare[t]);
  const wettedM2PerM3 = Math.max(wetted * tower.media.specificSurfaceM2PerM3, 1);
  const oxygen = diffusivityM2PerS("oxygen", temperatureC, salt);
  // While the pump is stopped, the film left on the media exchanges gas through its own thickness.
  const velocity =
    operating.running && flow > 0
      ? ondaLiquidCoefficientMPerS(packingOf(tower), liquidAt(temperatureC, salt), flow / planM2(tower), wettedM2PerM3, oxygen)
      : oxygen / wiring.films[filmOf.towers[t]].waterM;
  const o2TransferPerDay = (velocity * SECONDS_PER_DAY * areaM2) / volumeM3;
  const { gas, airM3PerDay } = towerAir(aquarium, operating, t, temperatureC);
  // Ammonia is so soluble that the passing air, not the surface, limits how much is removed.
  const byAir = airM3PerDay * NH3_HENRY;
  const bySurface = NH3_VELOCITY_M_PER_DAY * areaM2;
  return {
    cell: {
      o2TransferPerDay,
      co2TransferPerDay: o2TransferPerDay * Math.sqrt(diffusivityM2PerS("carbonDioxide", temperatureC, salt) / oxygen),
      nh3TransferPerDay: (byAir * bySurface) / (byAir + bySurface) / volumeM3,
      captureShare: captureShare(tower, operating.blinded[t]),
    },
    gas,
  };
}

/** Gas space of a tower, and its air exchange with the room [m³/d]. */
function towerAir(
  { rig }: NitrogenModel,
  operating: OperatingState,
  t: number,
  temperatureC: number,
): { readonly gas: GasCoefficients; readonly airM3PerDay: number } {
  const tower = rig.towers[t];
  const pressurePa = airPressurePa(rig.room.altitudeM);
  const volumeM3 = gasVolumeM3(tower);
  const airM3PerDay = airExchangeM3PerS(rig, tower, operating, t, temperatureC, pressurePa) * SECONDS_PER_DAY;
  const airMolPerM3 = pressurePa / (GAS_CONSTANT * (temperatureC + ZERO_CELSIUS_K));
  return {
    airM3PerDay,
    gas: {
      volumeM3,
      exchangePerDay: airM3PerDay / volumeM3,
      roomO2GPerM3: O2_IN_AIR * airMolPerM3 * OXYGEN_GAS_G_PER_MOL,
      roomCo2MolPerM3: rig.room.co2Share * airMolPerM3,
    },
  };
}

/**
 * Share of the waste in the tower's water that the pad retains. Water that bypasses the media is in none of its flows;
 * water that spills onto them bypasses only the pad.
 */
function captureShare({ prefilter }: Tower, blindedShare: number): number {
  if (!prefilter) return MEDIA_CAPTURE;
  return PAD_CAPTURE[prefilter.grade] * (prefilter.spillsTo === "media" ? 1 - blindedShare : 1);
}

/** Voids of the media plus 50 mm of air over them. */
const gasVolumeM3 = (tower: Tower): number => planM2(tower) * tower.mediaDepthM * tower.media.voidShare + planM2(tower) * 0.05;

function airExchangeM3PerS(
  rig: Rig,
  tower: Tower,
  operating: OperatingState,
  t: number,
  temperatureC: number,
  pressurePa: number,
): number {
  const air = {
    planAreaM2: planM2(tower),
    heightM: tower.mediaDepthM + 0.1,
    lid: operating.lid[t],
    forcedM3PerS: operating.dark ? 0 : tower.airFlowM3PerS,
  };
  const { temperatureC: roomC, relativeHumidity } = rig.room;
  return towerAirExchangeM3PerS(air, temperatureC, { temperatureC: roomC, relativeHumidity, pressurePa });
}
