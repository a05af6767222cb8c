// Seeds from another water, and animals that are no fish: against what was measured.

import { describe, expect, it } from "vitest";
import { animalKinds, USE_OVER_FISH } from "../../../models/life/animals.ts";
import { type SeedOrigin, survivingShare } from "../../../models/life/moved-seed.ts";
import { restingOxygenGPerDay, useOverResting } from "../../../models/life/respiration.ts";
import { inoculatedStock, matureStock } from "../../../models/nitrogen/tank/biofilm-stock.ts";
import { coefficients } from "../../../models/nitrogen/tank/coefficients.ts";
import { initialOperatingState } from "../../../models/nitrogen/tank/operating-state.ts";
import { resultOf } from "../../scenarios/told.ts";
import { compared } from "../../validation/compared.ts";
import { asN, dosing, firstBelow, group, keepTank, readyDay, seen, type TankOptions, tank, tell } from "../nitrogen/cases.ts";

describe("a seed from elsewhere", () => {
  const origin = (more: Partial<SeedOrigin> = {}): SeedOrigin => ({
    salinityGPerKg: 0,
    temperatureC: 20,
    hours: 0,
    kept: "wet",
    ...more,
  });

  it("of a fresh-water film a tenth works at 15 g/kg and next to none in the sea (Kinyage & Pedersen 2019); one of the sea bears fresh water", () => {
    expect(survivingShare(origin(), 0)).toBe(1);
    expect(survivingShare(origin(), 15)).toBeCloseTo(0.1, 10);
    expect(survivingShare(origin(), 35)).toBeLessThan(0.001);
    expect(survivingShare(origin({ salinityGPerKg: 35 }), 0)).toBe(1);
    expect(survivingShare(origin({ salinityGPerKg: 15 }), 35)).toBeLessThan(0.1);
  });

  it("loses 18 % in a day and 45 % in three days on the way (Siegrist et al. 1999, 0.2 1/d at 20 °C), more when warm, most when it dries", () => {
    expect(survivingShare(origin({ hours: 24 }), 0)).toBeCloseTo(0.82, 2);
    expect(survivingShare(origin({ hours: 72 }), 0)).toBeCloseTo(0.55, 2);
    expect(survivingShare(origin({ hours: 24, temperatureC: 30 }), 0)).toBeLessThan(0.75);
    expect(survivingShare(origin({ kept: "dried" }), 0)).toBeCloseTo(0.2, 10);
  });

  it("in a bottle without air loses 3 % in a day and 93 % in three months (Siegrist et al. 1999, 0.03 1/d at 20 °C), and nearly all of it in a warm shop", () => {
    const bottle = (more: Partial<SeedOrigin>) => survivingShare(origin({ kept: "bottled", ...more }), 0);
    expect(bottle({ hours: 24 })).toBeCloseTo(0.97, 2);
    expect(bottle({ hours: 24 * 90 })).toBeCloseTo(0.067, 2);
    expect(bottle({ hours: 24 * 90, temperatureC: 30 })).toBeLessThan(0.01);
    expect(bottle({ hours: 24 * 90, temperatureC: 5 })).toBeGreaterThan(0.3);
  });

  const start: TankOptions = { temperatureC: 26, tan: 3 * asN.NH3, days: 60, co2Share: "holds the pH", events: dosing(3, 60) };
  it("more good seed is never worse: each guild has more, the first dose is gone sooner, and the filter is ready no later, but for a day of the dosing rhythm", () => {
    const mature = matureStock(tank(start));
    const shares = [1e-4, 1e-3, 5e-3, 0.015, 0.021, 0.05, 0.12, 0.25, 0.6];
    const stocks = shares.map((share) => inoculatedStock(tank(start), mature, share, "everywhere"));
    for (let i = 1; i < shares.length; i++)
      for (const [f, film] of stocks[i].entries())
        for (const guild of ["aob", "sao", "nob", "sno"] as const)
          expect(film[guild], `${guild} at ${shares[i]}`).toBeGreaterThanOrEqual(stocks[i - 1][f][guild]);
    const runs = shares.map((seed) => keepTank({ ...start, seed }));
    const gone = runs.map((run) => firstBelow(seen(run, "tan"), 0.25 * asN.NH3, 0));
    const ready = runs.map((run) => readyDay(run));
    console.info(
      `seeds ${shares.join(", ")}: dose gone on day ${gone.map((d) => d.toFixed(1)).join(", ")}; ready ${ready.join(", ")}`,
    );
    for (let i = 1; i < shares.length; i++) {
      expect(gone[i]).toBeLessThanOrEqual(gone[i - 1]);
      expect(ready[i]).toBeLessThanOrEqual(ready[i - 1] + 1);
    }
  });

  const file = (seed: string, salinity = 35) => `sumpwright: 1
name: seeded
kit: { ammonia: NH3, nitrite: NO2, nitrate: NO3 }
tank: { outside: 1000 x 430 x 500 mm }
sump: { outside: 700 x 380 x 400 mm, water: 190 mm }
return: { pump: 2400 L/h, outlet: 30 mm, hole: { bore: 4 mm, depth: 10 mm } }
water: { salinity: ${salinity} ppt }
seed: ${seed}
cycle: {}
days: 60
`;
  it("through a file: fresh media in a marine tank bring ammonia and little else; the same from the sea clear the first dose long before", {
    timeout: 60_000,
  }, async () => {
    const day = async (seed: string) => {
      const { series, timeDays } = (await resultOf(file(seed))).nitrogen;
      const tan = series.find(({ id }) => id.startsWith("tan"))!.values;
      return timeDays[tan.findIndex((value, n) => timeDays[n] > 0.5 && value! < 0.25 * asN.NH3)] ?? Number.POSITIVE_INFINITY;
    };
    const [fresh, sea] = [
      await day("{ share: 25 %, from: fresh, travelled: 1 h }"),
      await day("{ share: 25 %, from: salt, travelled: 1 h }"),
    ];
    tell("marine, a quarter of a filter", { fresh, sea });
    expect(sea).toBeLessThan(fresh - 10);
  });
});

describe("animals that are no fish", () => {
  it("a squid of 21 g at 14 °C uses 1.5 to 1.7 times the highest of fish (swim tunnel, Harianto et al. 2019)", () => {
    const fish = restingOxygenGPerDay(21.4, 14);
    const highest = fish * useOverResting("active", "high");
    const squid = USE_OVER_FISH.cephalopod * fish * useOverResting("active", "likely");
    compared({
      set: "Oxygen use of animals",
      what: "squid of 21 g, 14 °C (set on it)",
      unit: "mg/kg/h",
      source: "Harianto et al. (2019)",
      kind: "measured",
      outside: [(1.5 * highest * 1e6) / 24 / 21.4, (1.7 * highest * 1e6) / 24 / 21.4],
      model: (squid * 1e6) / 24 / 21.4,
    });
    expect(squid / highest).toBeGreaterThan(1.5);
    expect(squid / highest).toBeLessThan(1.7);
  });

  it("shrimps use about what fish use at rest, snails far less; each kind has its rate and what is not known keeps that of fish", () => {
    const perKgHour = (kind: (typeof animalKinds)[number], massG: number, t: number) =>
      (USE_OVER_FISH[kind] * restingOxygenGPerDay(massG, t) * useOverResting("active", "likely") * 1000 * 1000) / 24 / massG;
    expect(perKgHour("crustacean", 7, 25)).toBeGreaterThan(200);
    expect(perKgHour("crustacean", 7, 25)).toBeLessThan(350);
    expect(perKgHour("mollusc", 10, 20)).toBeGreaterThan(20);
    expect(perKgHour("mollusc", 10, 20)).toBeLessThan(70);
    expect(USE_OVER_FISH.invertebrate).toBe(1);
    expect(Object.keys(USE_OVER_FISH).sort()).toEqual([...animalKinds].sort());
  });

  it("reach the equations: of the same mass, squid take most oxygen from a tank and snails least", () => {
    const taken = animalKinds.map((kind) => {
      const model = tank({ groups: [group(2, { kind })] });
      return coefficients(model, { ...initialOperatingState(model), groups: model.management.groups }).cells[0]
        .respirationGPerM3Day;
    });
    for (const [n, kind] of animalKinds.entries()) expect(taken[n] / taken[0]).toBeCloseTo(USE_OVER_FISH[kind], 10);
  });
});

describe("a bottle as it is bought", () => {
  const file = (dose: string) => `sumpwright: 1
name: dosed
kit: { ammonia: NH3, nitrite: NO2, nitrate: NO3 }
tank: { outside: 1000 x 430 x 500 mm }
sump: { outside: 700 x 380 x 400 mm, water: 190 mm }
return: { pump: 2400 L/h, outlet: 30 mm, hole: { bore: 4 mm, depth: 10 mm } }
days: 2
timeline:
  - { at: day 1, do: dose ammonia, ${dose} }
`;
  const given = async (dose: string) => {
    const { nitrogen } = await resultOf(file(dose));
    return nitrogen.ledger.in.find(({ label }) => label.startsWith("dosed"))!.gN;
  };

  it("15 mL of 10 % ammonia water are 1.18 g N, and 4.5 g of ammonium chloride as many: by molar masses and the handbook's 0.957 g/mL", async () => {
    expect(await given("volume: 15 mL, strength: 10 %")).toBeCloseTo(15 * 0.957 * 0.1 * (14.007 / 17.031), 2);
    expect(await given("mass: 4.5 g")).toBeCloseTo(4.5 * (14.007 / 53.49), 2);
    expect(await given("bottle: ammonium salt, volume: 45 mL, strength: 10 %")).toBeCloseTo(4.5 * (14.007 / 53.49), 2);
  });
});
