// Numbers in the reader's words: unit system first theirs, nitrogen on the scale of their kit.
import type { Built } from "./build.ts";
import * as format from "./format.ts";
import { massPerN, readingsOf, type Species } from "./nitrogenBasis.ts";
import type { Ear } from "./say.ts";

export class Words implements Ear {
  readonly built: Built;
  readonly units: format.UnitSystem;
  readonly locale = "en";
  constructor(built: Built) {
    this.built = built;
    this.units = built.units;
  }
  /** Factor from g N to the kit's scale and the scale's name; an unknown scale is read as the ion, as most kits print. */
  scale(species: Species): { readonly perN: number; readonly name: string } {
    const readings = readingsOf(species, this.built.kit[species]);
    const basis = readings[readings.length - 1];
    return { perN: massPerN(basis), name: basis };
  }
  /** "1.9 mg/L as NO2". */
  level(species: Species, gNPerM3: number): string {
    const { perN, name } = this.scale(species);
    return `${format.plain(Math.max(0, gNPerM3) * perN, 2)} mg/L as ${name}`;
  }
  ceiling(species: Species): number {
    const steps = this.built.kit.steps[species];
    return steps[steps.length - 1];
  }
  length(m: number): string {
    return format.theirsFirst(format.length(m), this.built.units);
  }
  volume(m3: number): string {
    return format.theirsFirst(format.volume(m3), this.built.units);
  }
  flow(m3PerS: number): string {
    return format.theirsFirst(format.flow(m3PerS), this.built.units);
  }
  temperature(celsius: number): string {
    return format.theirsFirst(format.temperature(celsius), this.built.units);
  }
  food(gPerDay: number): string {
    return `${format.plain(gPerDay, 2)} g`;
  }
}

export const day = (d: number): string => `day ${Math.round(d)}`;
