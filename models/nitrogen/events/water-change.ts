// Replaces part of the water by tap water.

import { pow } from "../../../sim/elementary.ts";
import { eachGuild } from "../kinetics/guilds.ts";
import type { TapWater } from "../management.ts";
import { inventory } from "../reactor/inventory.ts";
import { changeWater, kill, tapNitrogenGPerM3 } from "../tank/operations.ts";
import { eventRule } from "./rule.ts";

export interface WaterChange {
  readonly kind: "water change";
  readonly share: number;
  readonly tap: TapWater;
}

/** Share of nitrifiers that survives untreated chloramine of 1 g Cl2/m³ in the mixed water (modelling assumption). */
const ALIVE_AT_1_G_CHLORAMINE = 0.5;
/** Chloramine above which the change counts as a shock [g Cl2/m3] (modelling assumption). */
const MUCH_CHLORAMINE = 0.5;

export const waterChangeRule = eventRule<WaterChange>(
  "water change",
  ({ run }, { day, share, tap }) => {
    const { system, ledger } = run;
    const { salinityGPerKg, volumesM3 } = run.operating;
    const before = inventory(system, run.y).total;
    run.alter((y) => changeWater(system, y, share, tap));
    const broughtIn = share * volumesM3.reduce((a, b) => a + b, 0) * tapNitrogenGPerM3(tap);
    ledger.add("tap water", broughtIn);
    ledger.add("water changes", inventory(system, run.y).total - before - broughtIn);
    run.chlorideGPerM3 += share * (tap.chlorideGPerM3 - run.chlorideGPerM3);
    if (!tap.treated && tap.chloramineGPerM3 > 0) {
      const lost = 1 - pow(ALIVE_AT_1_G_CHLORAMINE, share * tap.chloramineGPerM3);
      run.alter((y) => {
        for (const f of system.wiring.films.keys())
          kill(
            system,
            y,
            f,
            eachGuild(() => lost),
          );
      });
    }
    run.operate({ salinityGPerKg: salinityGPerKg + share * (tap.salinityGPerKg - salinityGPerKg) });
    if (tap.temperatureC !== null) run.heat?.diluted(day, share, tap.temperatureC);
  },
  { isHabit: () => true, isShock: ({ tap }) => tap.chloramineGPerM3 >= MUCH_CHLORAMINE },
);
