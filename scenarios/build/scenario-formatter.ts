// Formats messages in the units of the scenario file, with nitrogen on the scale of its test kit.

import type { UnitSystem } from "../text/format.ts";
import type { MessageFormatter } from "../text/message.ts";
import { massPerN, readingsOf, type Species } from "../text/nitrogen-basis.ts";
import type { ResolvedScenario } from "./build.ts";

export class ScenarioFormatter implements MessageFormatter {
  readonly resolved: ResolvedScenario;
  readonly units: UnitSystem;
  readonly locale = "en";
  constructor(resolved: ResolvedScenario) {
    this.resolved = resolved;
    this.units = resolved.units;
  }
  /** Factor from g N to the kit's scale, and the scale's name; an unknown scale is read as the ion, as most kits print it. */
  scale(species: Species): { readonly perN: number; readonly name: string } {
    const readings = readingsOf(species, this.resolved.kit[species]);
    const basis = readings[readings.length - 1];
    return { perN: massPerN(basis), name: basis };
  }
  ceiling(species: Species): number {
    const steps = this.resolved.kit.steps[species];
    return steps[steps.length - 1];
  }
}
