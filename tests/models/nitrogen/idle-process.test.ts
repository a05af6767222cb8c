import { expect, it } from "vitest";
import { parameterValues } from "../../../models/nitrogen/kinetics/parameters.ts";
import { type Process, processes } from "../../../models/nitrogen/kinetics/processes.ts";
import { filmVariables, RateEvaluator } from "../../../models/nitrogen/kinetics/rate-evaluator.ts";

/** Rates and gradients of one film in the middle of its working range. */
function evaluated(rows: readonly Process[]) {
  const film = new RateEvaluator(
    rows.filter(({ place }) => place === "film"),
    "film",
  );
  const values: Record<(typeof filmVariables)[number], number> = {
    tan: 0.6,
    no2: 0.4,
    o2: 5,
    ss: 2,
    aob: 0.1,
    sao: 0.05,
    nob: 0.05,
    sno: 0.03,
    het: 2,
    no3: 5,
    alk: 2,
    dic: 2,
    xs: 1,
    around: 0.8,
  };
  const y = Float64Array.from(filmVariables, (name) => values[name]);
  const rates = rows.filter(({ place }) => place === "film").map(({ rate }) => rate);
  film.evaluate(
    y,
    Int32Array.from(filmVariables.keys()),
    Float64Array.from(rates),
    Float64Array.from([7.8, 0.05, 0.1, -0.1, 0.1, 0.01, -0.01, 0.01]),
    9.25,
    3.3,
    { leastM: 1e-4, densityGPerM3: 600, tan: 4000, no2: 4000, ss: 8000, o2: 3000 },
    true,
  );
  return { rates: [...film.rates], gradients: [...film.gradients] };
}

it("a process whose rate is zero changes no other process, whatever its half-saturations", () => {
  const rows = processes(parameterValues());
  const without = evaluated(rows);
  const growth = rows.find(({ id }) => id === "aob growth")!;
  const idle: Process = {
    ...growth,
    id: "idle",
    rate: 0,
    terms: growth.terms.map((term) => (term.kind === "monod" ? { ...term, half: 50 * term.half } : term)),
  };
  const withIdle = evaluated([...rows, idle]);
  const same = without.rates.length;
  for (let p = 0; p < same; p++) expect(withIdle.rates[p], `rate ${p}`).toBeCloseTo(without.rates[p], 14);
  without.gradients.forEach((slope, n) => {
    expect(withIdle.gradients[n], `slope ${n}`).toBeCloseTo(slope, 12);
  });
  expect(withIdle.rates[same]).toBe(0);
});
