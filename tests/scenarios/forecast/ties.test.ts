// Correlations that readings leave between inputs are kept in the updated scenario.
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { errorText, loadScenario } from "../../../scenarios/load/load.ts";
import { coupleModels, nitrogenSetup } from "../../../scenarios/model/compile.ts";
import { memberSamples } from "../../../scenarios/model/members.ts";
import { correlationOf } from "../../../sim/design/correlation.ts";
import { log } from "../../../sim/elementary.ts";
import { memberStream } from "../../../sim/ensemble/ensemble.ts";

const source = readFileSync(new URL("../../../scenarios/shipped/first-tank.yaml", import.meta.url), "utf8");
const withTies = (ties: string): string => `${source}\nuncertain:\n  together:\n${ties}`;

test("members of a scenario with inputs tied together have that correlation", () => {
  const text = withTies("    - { one: growth of ammonia oxidisers, other: half-saturation of nitrite, correlation: -0.8 }\n");
  const loaded = loadScenario(text, "tank.yaml");
  if (!loaded.ok) throw new Error(loaded.errors.map(errorText).join("\n"));
  const coupled = coupleModels(loaded.scenario, text);
  const setup = nitrogenSetup(coupled, coupled.simulator.simulate());
  const many = 2000;
  const sampleOf = memberSamples([setup], "ties", many);
  const samples = Array.from({ length: many }, (_, n) => sampleOf(n, memberStream("ties", n)).factors);
  const even = new Float64Array(many).fill(1 / many);
  const column = (id: keyof (typeof samples)[number]) => samples.map((factors) => log(factors[id]!));
  const found = correlationOf(column("growth of ammonia oxidisers"), column("half-saturation of nitrite"), even);
  // The ranges are not quite normal in the logarithm, which takes a little away.
  expect(found).toBeLessThan(-0.7);
  expect(found).toBeGreaterThan(-0.85);
  expect(Math.abs(correlationOf(column("water volume"), column("half-saturation of nitrite"), even))).toBeLessThan(0.1);
});

test("an input tied to itself, and one that does not exist, are mistakes with their place", () => {
  const first = loadScenario(withTies("    - { one: seed, other: seed, correlation: 0.5 }\n"), "t.yaml");
  expect(first.ok ? [] : first.errors.map(errorText).join()).toContain("name two different inputs");
  const second = loadScenario(withTies("    - { one: seed, other: food given, correlation: 0.5 }\n"), "t.yaml");
  expect(second.ok).toBe(false);
});
