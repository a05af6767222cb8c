// What the display comes to when the pump starts again and the water of all places mixes.

import type { Exchange } from "../coupling/exchange.ts";
import { densityKgPerM3, specificHeatJPerKgK } from "../water/density.ts";
import type { AtRest, Cut } from "./cut.ts";
import { cutTemperatures } from "./temperature.ts";

export interface RestartTemperature {
  /** First display, and the coldest or warmest part of the system below it, before the restart [°C]. */
  readonly displayC: number;
  readonly otherC: number;
  /** All water mixed [°C]: heat is conserved, the few minutes of mixing gain and lose none (modelling assumption). */
  readonly mixedC: number;
  /** Time in which the pump passes the water of the display once [s]. */
  readonly turnoverS: number;
}

/**
 * Temperatures at the end of an outage and after its restart. Every cell weighs by its heat content; closed filters have
 * pumps of their own and are left out.
 * @param running exchange while running
 */
export function restartTemperature(rest: AtRest, cut: Cut, running: Exchange): RestartTemperature {
  const temperatures = cutTemperatures(rest, cut, cut.hours).at(cut.hours);
  const { salinityGPerKg } = rest.rig;
  const display = rest.cells.findIndex(({ kind }) => kind === "display");
  const displayC = temperatures[display];
  let [heat, capacity, otherC] = [0, 0, displayC];
  for (const [c, { kind }] of rest.cells.entries()) {
    if (kind === "closed filter") continue;
    const t = temperatures[c];
    const each = rest.volumesM3[c] * densityKgPerM3(t, salinityGPerKg) * specificHeatJPerKgK(t, salinityGPerKg);
    heat += each * t;
    capacity += each;
    if (kind === "chamber" && Math.abs(t - displayC) > Math.abs(otherC - displayC)) otherC = t;
  }
  const perDay = running.flows.reduce((sum, { to, m3PerDay }) => (to === display ? sum + m3PerDay : sum), 0);
  return { displayC, otherC, mixedC: heat / capacity, turnoverS: (86_400 * running.volumesM3[display]) / perDay };
}
