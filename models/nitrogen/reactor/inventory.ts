// Nitrogen inventory: the weights that convert a state to grams, and the ledger of inputs and outputs.

import { content, N_IN_ORGANICS, type Substance } from "../kinetics/composition.ts";
import { guilds } from "../kinetics/guilds.ts";
import { cellVariables } from "../kinetics/rate-evaluator.ts";
import { sinks } from "./state-layout.ts";
import type { NitrogenSystem } from "./system.ts";

/** Nitrogen in water, organics, films, guts and sinks [g N]; the sum changes only by inputs and outputs. */
export interface Inventory {
  readonly dissolved: { readonly tan: number; readonly no2: number; readonly no3: number };
  readonly organics: number;
  readonly bacteria: number;
  readonly guts: number;
  readonly ends: Readonly<Record<(typeof sinks)[number], number>>;
  readonly total: number;
}

export function inventory(system: NitrogenSystem, y: Float64Array): Inventory {
  const { wiring, coefficients } = system;
  const dissolved = { tan: 0, no2: 0, no3: 0 };
  let organics = 0;
  let bacteria = 0;
  wiring.cells.forEach((_, c) => {
    const volume = coefficients.cells[c].volumeM3;
    for (const v of cellVariables) {
      const grams = volume * y[system.cellIndex(c, v)] * (content[v as Substance].nitrogen ?? 0);
      if (v === "tan" || v === "no2" || v === "no3") dissolved[v] += grams;
      else if (v === "xh") bacteria += grams;
      else organics += grams;
    }
  });
  wiring.films.forEach((film, f) => {
    const area = coefficients.films[f].areaM2;
    for (const v of ["tan", "no2"] as const) dissolved[v] += area * film.waterM * y[system.filmIndex(f, v)];
    organics += area * film.waterM * N_IN_ORGANICS * y[system.filmIndex(f, "ss")];
    for (const v of guilds) bacteria += area * (content[v].nitrogen ?? 0) * y[system.filmIndex(f, v)];
  });
  let guts = 0;
  wiring.guts.forEach((_, g) => {
    guts += y[system.gutIndex(g, 0)] + y[system.gutIndex(g, 1)];
  });
  const ends = Object.fromEntries(
    sinks.map((name) => [name, y[system.endIndex(name)] * (name === "foam" ? N_IN_ORGANICS : 1)]),
  ) as Inventory["ends"];
  const total =
    dissolved.tan + dissolved.no2 + dissolved.no3 + organics + bacteria + guts + Object.values(ends).reduce((a, b) => a + b, 0);
  return { dissolved, organics, bacteria, guts, ends, total };
}

/** Sums of inputs and outputs by label [g N]. */
export class Ledger {
  readonly in = new Map<string, number>();
  readonly out = new Map<string, number>();

  add(label: string, gN: number): void {
    if (gN >= 0) this.in.set(label, (this.in.get(label) ?? 0) + gN);
    else this.out.set(label, (this.out.get(label) ?? 0) - gN);
  }
  get net(): number {
    const sum = (map: Map<string, number>) => [...map.values()].reduce((a, b) => a + b, 0);
    return sum(this.in) - sum(this.out);
  }
  /** All inputs and outputs in total [g N]. */
  get turnover(): number {
    return [...this.in.values()].reduce((a, b) => a + b, 0);
  }
}
