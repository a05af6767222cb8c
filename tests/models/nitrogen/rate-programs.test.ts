import { expect, test } from "vitest";
import { processes } from "../../../models/nitrogen/kinetics/processes.ts";
import { RateEvaluator } from "../../../models/nitrogen/kinetics/rate-evaluator.ts";
import { BASES, placeData, ratePrograms, Scale, TABLE, tableNumbers } from "../../../models/nitrogen/reactor/rate-programs.ts";
import { carbonateConstants, PH_RESULT_LENGTH, solvePh } from "../../../models/water/carbonate.ts";
import { smallAquarium } from "./rigs.ts";

const NITROGEN_G_PER_MOL = 14.007;
const WATER = ["tan", "no2", "no3", "o2", "alk", "dic", "ss", "xs", "xd", "xh"] as const;
const FILM = ["tan", "no2", "o2", "ss", "aob", "sao", "nob", "sno", "het"] as const;
const [CELL_AT, FILM_AT, ACID_AT, DATA_AT, OUT_AT, FILM_OUT_AT, STORE_AT, GAS_AT, TABLE_AT, JACOBIAN_AT, NUMBERS_AT] = [
  0, 1024, 2048, 3072, 6144, 7168, 8192, 9216, 10_240, 16_384, 32_768,
];

function random(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
}

/** One film or cell with numbers in a memory. */
function place(kind: "cell" | "film", seed: number, buffer: ArrayBufferLike) {
  const { system } = smallAquarium();
  const next = random(seed);
  const parameters = Object.fromEntries(
    Object.entries(system.parameters).map(([id, value]) => [id, value * (0.95 + 0.1 * next())]),
  ) as typeof system.parameters;
  const list = processes(parameters).filter((row) => row.place === kind);
  const floats = (at: number, length: number) => new Float64Array(buffer, at, length);
  const water = floats(CELL_AT, WATER.length);
  const sizes = { tan: 1, no2: 1, no3: 20, o2: 8, alk: 2, dic: 2, ss: 1, xs: 1, xd: 3, xh: 0.1 };
  WATER.forEach((name, i) => {
    water[i] = sizes[name] * (0.3 + next());
  });
  const film = floats(FILM_AT, FILM.length);
  FILM.forEach((name, i) => {
    // Occasionally slightly below zero, as after a step.
    film[i] = (name in sizes ? sizes[name as keyof typeof sizes] : 0.5) * (next() < 0.15 ? -0.01 : 0.1 + next());
  });
  const acid = floats(ACID_AT, PH_RESULT_LENGTH);
  solvePh(carbonateConstants(25, 5), water[4]!, water[5]!, water[0]! / NITROGEN_G_PER_MOL, 7.5, acid);
  const at = placeData(list.length);
  const data = floats(DATA_AT, at.length);
  list.forEach(({ rate }, p) => {
    data[p] = rate * (0.5 + next());
  });
  const depth = { tan: 4e4, no2: 5e4, ss: 1e5, o2: 3e4, leastM: 1e-4, densityGPerM3: 4e4 };
  data.set([9.25, 3.3, depth.leastM, depth.densityGPerM3, depth.tan, depth.no2, depth.ss, depth.o2], at.ammoniumPka);
  data.set([1, 1e3, 12, 0.2, 3, 0.7], at.scale);
  const numbers = tableNumbers(list);
  floats(NUMBERS_AT, numbers.length).set(numbers);
  return { parameters, list, water, film, acid, data, depth, at };
}

const bases = [CELL_AT, FILM_AT, ACID_AT, DATA_AT, NUMBERS_AT, OUT_AT, FILM_OUT_AT, STORE_AT, GAS_AT];

for (const kind of ["cell", "film"] as const) {
  test(`the compiled ${kind} agrees with the interpreted process table`, () => {
    for (let seed = 1; seed < 40; seed++) {
      const memory = new WebAssembly.Memory({ initial: 1 });
      const { parameters, list, water, film, acid, data, depth, at } = place(kind, seed * 7919, memory.buffer);
      const { formulas, entries } = ratePrograms(kind, parameters);
      const { derivative, jacobian } = formulas.over({ memory, buffer: memory.buffer });
      const table = new Int32Array(memory.buffer, TABLE_AT, entries.length);
      table.forEach((_, e) => {
        table[e] = JACOBIAN_AT + 8 * e;
      });
      expect(bases).toHaveLength(BASES);
      derivative!(...bases);
      jacobian!(...bases.slice(0, TABLE), TABLE_AT);

      const evaluator = new RateEvaluator(list, kind);
      const y = Float64Array.of(...water, ...film);
      const index = Int32Array.from(evaluator.locals, (name) => {
        const own = kind === "film" ? (FILM as readonly string[]).indexOf(name) : -1;
        return own >= 0 ? WATER.length + own : (WATER as readonly string[]).indexOf(name === "around" ? "tan" : name);
      });
      evaluator.evaluate(y, index, data.subarray(0, list.length), acid, 9.25, 3.3, kind === "film" ? depth : undefined, true);
      const scaleOf = (of: string, name: string): number => {
        if (of === "gas") return data[at.scale + Scale.CellToGas]!;
        if (of === "store") return data[at.scale + (kind === "film" ? Scale.FilmToStore : Scale.CellToStore)]!;
        if (kind === "cell") return 1;
        if (of === "cell") return data[at.scale + Scale.FilmToCell]!;
        return name in { tan: 0, no2: 0, o2: 0, ss: 0 } ? data[at.scale + Scale.FilmWater]! : 1;
      };
      const stoichiometric = (p: number, of: string, name: string): number =>
        (list[p]!.stoichiometry as Record<string, number>)[of === "gas" ? "co2air" : name] ?? 0;
      const close = (found: number, parts: readonly number[], what: string): void => {
        const size = parts.reduce((sum, part) => sum + Math.abs(part), 0);
        const sum = parts.reduce((total, part) => total + part, 0);
        expect(Math.abs(found - sum), `${what}: ${found} for ${sum}`).toBeLessThanOrEqual(1e-11 * size + 1e-280);
      };
      const found = new Float64Array(memory.buffer, JACOBIAN_AT, entries.length);
      entries.forEach(({ row, by }, e) => {
        const j = evaluator.locals.indexOf(by);
        const parts = list.map(
          (_, p) =>
            stoichiometric(p, row.of, row.name) * scaleOf(row.of, row.name) * evaluator.gradients[p * evaluator.width + j]!,
        );
        close(found[e]!, parts, `${row.of} ${row.name} by ${by}`);
      });
      const out = new Float64Array(memory.buffer, OUT_AT, WATER.length);
      const own = new Float64Array(memory.buffer, FILM_OUT_AT, FILM.length);
      WATER.forEach((name, i) => {
        if (kind === "film" && (FILM as readonly string[]).includes(name)) return;
        close(
          out[i]!,
          list.map((_, p) => stoichiometric(p, "cell", name) * scaleOf("cell", name) * evaluator.rates[p]!),
          name,
        );
      });
      if (kind === "film")
        FILM.forEach((name, i) => {
          close(
            own[i]!,
            list.map((_, p) => stoichiometric(p, "film", name) * scaleOf("film", name) * evaluator.rates[p]!),
            name,
          );
        });
    }
  });

  test(`the ${kind} has the same bits in WebAssembly and in JavaScript`, () => {
    const memory = new WebAssembly.Memory({ initial: 1 });
    const results = [
      { memory, buffer: memory.buffer },
      { memory: null, buffer: new ArrayBuffer(65_536) },
    ].map((where) => {
      const { parameters } = place(kind, 4711, where.buffer);
      const { formulas, entries } = ratePrograms(kind, parameters);
      const { derivative, jacobian } = formulas.over(where);
      new Int32Array(where.buffer, TABLE_AT, entries.length).set(entries.map((_, e) => JACOBIAN_AT + 8 * e));
      derivative!(...bases);
      jacobian!(...bases.slice(0, TABLE), TABLE_AT);
      return [...new Float64Array(where.buffer, OUT_AT, (NUMBERS_AT - OUT_AT) / 8)];
    });
    expect(results[0]!.some((value) => value !== 0)).toBe(true);
    expect(results[0]).toEqual(results[1]);
  });
}
