// Solids: where they settle, that they are conserved, and the effect of a pad that nobody changes.
import { describe, expect, it } from "vitest";
import { FAECES_SHARE, NITROGEN_PER_PROTEIN } from "../../../models/life/excretion.ts";
import type { ManagementEvent } from "../../../models/nitrogen/events/all.ts";
import { N_IN_ORGANICS } from "../../../models/nitrogen/kinetics/composition.ts";
import {
  blindedShareAt,
  DRY_PER_COD,
  INERT_PER_FOOD,
  loadAtBlinded,
  mudDepthM,
  retentionAt,
} from "../../../models/nitrogen/reactor/solids.ts";
import { restingPlaces } from "../../../models/nitrogen/reactor/solids-distribution.ts";
import type { Run } from "../../../models/nitrogen/simulation/simulation.ts";
import { coefficients, systemAt } from "../../../models/nitrogen/tank/coefficients.ts";
import { initialOperatingState } from "../../../models/nitrogen/tank/operating-state.ts";
import { fill } from "../../../models/nitrogen/tank/operations.ts";
import type { Prefilter, Tower } from "../../../models/rig.ts";
import { StiffSolver } from "../../../sim/integrators/stiff.ts";
import { powerCut, stopOf } from "../outage/rest.ts";
import { asN, group, keepTank, morning, seen, type TankOptions, tank, tell, waterChanges } from "./cases.ts";

/** Floss over most of the tower by default. */
const pad = (more: Partial<Prefilter> = {}): Partial<Tower> => ({
  prefilter: { grade: "fine", areaM2: 0.12, thicknessM: 0.02, blindedShare: 0, spillsTo: "past the media", ...more },
});
const newPad = (day: number): ManagementEvent => ({ day, label: "new pad", kind: "change pad" });
const every = (days: number, until: number, event: (day: number) => ManagementEvent): ManagementEvent[] =>
  Array.from({ length: Math.floor(until / days) }, (_, i) => event((i + 1) * days - 0.6));
/** NI-15's tank, 500 L with 12 g of food a day, all its media wetted, with weekly water changes. */
function kept(o: TankOptions, ...events: ManagementEvent[]): Run {
  const days = o.days ?? 30;
  const tankOf: TankOptions = { litres: 500, mediaLitres: 45, wetted: 0.8, groups: [group(12)], seed: 1, ...o, days };
  const run = keepTank({ ...tankOf, events: [...waterChanges(tankOf, days), ...events] });
  expect(run.outcome.status).toBe("finished");
  return run;
}
const spill = (run: Run, day: number): number => run.solidsInventory[run.days.findIndex((d) => d >= day)].spillShare[0];
const spillsFrom = (run: Run, share: number): number => run.days[run.solidsInventory.findIndex((d) => d.spillShare[0] > share)];
const ammonia = (run: Run, from: number, to: number): number => {
  const values = morning(seen(run, "tan"), 1 / asN.NH3)
    .filter((r) => r.day >= from && r.day < to)
    .map((r) => r.value);
  return values.reduce((a, b) => a + b, 0) / values.length;
};
/** Inert solids missing from the balance, relative to all that was fed. */
const unexplained = (run: Run): number => Math.abs(run.inertG.end - run.inertG.start - run.solids.net) / run.solids.turnover;

describe("dry matter of waste", () => {
  it("fresh faeces have the ratio of oxygen demand to dry matter of sludge from a sea farm, without its salt (Gebauer 2004)", () => {
    const codPerFood = (0.42 * NITROGEN_PER_PROTEIN * FAECES_SHARE) / N_IN_ORGANICS;
    const codPerDry = codPerFood / (codPerFood * DRY_PER_COD + INERT_PER_FOOD);
    // 60-74 g COD/L in 82-102 g/L of solids, including sea salt with 10-10.5 g/L of sodium, 30.6 % of the salt.
    const salt = 10.25 / 0.306;
    expect(codPerDry).toBeGreaterThan(60 / (102 - salt));
    expect(codPerDry).toBeLessThan(74 / (82 - salt));
  });

  it("inert solids are about the ash and fibre of a dry feed (8-12 %, common practice, no published source)", () => {
    expect(INERT_PER_FOOD).toBeGreaterThan(0.07);
    expect(INERT_PER_FOOD).toBeLessThan(0.12);
  });

  it("the bypass of a pad rises smoothly from nothing to all, with a tenth at its capacity, and its load follows from its bypass", () => {
    expect(blindedShareAt(0)).toBe(0);
    expect(blindedShareAt(1)).toBeCloseTo(0.1, 12);
    expect(blindedShareAt(loadAtBlinded(1))).toBe(1);
    for (const share of [0, 0.001, 0.3, 0.7, 0.99]) expect(blindedShareAt(loadAtBlinded(share))).toBeCloseTo(share, 12);
  });

  it("sediment with a twentieth of dry matter: 500 g on a tenth of a square metre are 100 mm deep", () => {
    expect(mudDepthM(500, 0.1)).toBeCloseTo(0.1, 12);
  });
});

describe("where waste settles", () => {
  const aquarium = tank({ litres: 300 });
  const { wiring } = aquarium.layout;
  const running = coefficients(aquarium, initialOperatingState(aquarium));
  const places = restingPlaces(wiring, running, [0]);

  it("agrees with the geometric series of its passes", () => {
    const [display, tower, sump] = running.cells;
    const flow = aquarium.exchange.flows[0].m3PerDay;
    const settles = (cell: typeof display) =>
      (cell.settlingPerDay * cell.volumeM3) / (flow + cell.settlingPerDay * cell.volumeM3);
    const [s, k, r] = [settles(display), tower.captureShare, settles(sump)];
    const rounds = 1 / (1 - (1 - s) * (1 - k) * (1 - r));
    expect(places[0]).toBeCloseTo(s * rounds, 12);
    expect(places[1]).toBeCloseTo((1 - s) * k * rounds, 12);
    expect(places[2]).toBeCloseTo((1 - s) * (1 - k) * r * rounds, 12);
    expect(places[3]).toBe(0);
  });

  it("agrees with the equations of the tank without hydrolysis", () => {
    const still = tank({ litres: 300, changes: { hydrolysis: 0 } });
    const system = systemAt(still, initialOperatingState(still));
    const y = new Float64Array(system.size);
    fill(system, y, still.management.start);
    const { cells } = system.coefficients;
    y[system.cellIndex(0, "xs")] = 10;
    const solver = new StiffSolver(system, { tolerances: { relative: 1e-6, absolute: system.absoluteTolerances() } });
    expect(solver.advance(0, 3, y).status).toBe("finished");
    for (const c of cells.keys()) {
      const lying = y[system.cellIndex(c, "xd")] * cells[c].volumeM3;
      expect(lying / (10 * cells[0].volumeM3), still.cells[c].name).toBeCloseTo(places[c], 3);
    }
  });

  it("is the display when nothing flows, and the shares add up to one when a foam fractionator runs", () => {
    const stopped = coefficients(aquarium, { ...initialOperatingState(aquarium), running: false });
    expect([...restingPlaces(wiring, stopped, [0])]).toEqual([1, 0, 0, 0]);
    const foaming = tank({ litres: 300 });
    const management = { ...foaming.management, foamFractionator: { flowM3PerDay: 5, removalShare: 0.3 } };
    const shares = restingPlaces(wiring, coefficients({ ...foaming, management }, initialOperatingState(foaming)), [0]);
    expect(shares[3]).toBeGreaterThan(0.01);
    expect(shares.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
  });
});

describe("conservation of solids", () => {
  const o: TankOptions = { litres: 300, groups: [group(4)] };
  const events: ManagementEvent[] = [
    ...every(14, 60, newPad),
    ...every(20, 60, (day) => ({ day, label: "siphon", kind: "siphon sediment" })),
    { day: 10, label: "sitter", kind: "feed", group: null, factor: 1.5, extraGPerDay: 5 },
    { day: 14, label: "as before", kind: "feed", group: null, factor: 1, extraGPerDay: 0 },
    powerCut(30.1, { hours: 8, fedMeanwhile: true }),
    { day: 40, label: "floss", kind: "pad clogs", blindedShare: 0.6 },
  ];

  it("holds over two months of feeding, overfeeding, new pads, siphoning and an outage", () => {
    const run = kept({ ...o, days: 60, run: { stop: stopOf(tank(o)) } }, ...events);
    // 60 days of 4 g, half as much again for four days, and 5 g a day that nobody eats.
    expect(run.solids.in.get("food")).toBeCloseTo(INERT_PER_FOOD * (60 * 4 + 4 * 2 + 4 * 5), 9);
    expect([...run.solids.out.keys()].sort()).toEqual(["pads changed", "sediment siphoned"]);
    expect(unexplained(run)).toBeLessThan(1e-12);
    expect(run.inertG.end).toBeGreaterThan(0.05 * run.solids.turnover);
  });

  it("holds with meals and with even feeding", () => {
    const [meals, even] = [{}, { evenFeeding: true }].map((run) => kept({ ...o, days: 20, run }));
    expect(even.solids.in.get("food")).toBeCloseTo(meals.solids.in.get("food")!, 9);
    expect(even.solidsInventory.at(-1)!.padDryG[0]).toBeCloseTo(meals.solidsInventory.at(-1)!.padDryG[0], 0);
  });
});

describe("the pad", () => {
  it("NI-16 by itself: floss that nobody changes lets 70 % bypass after three weeks, ammonia rises slowly, the return flow stays, new floss helps the same day", () => {
    const days = 52;
    const alone = kept({ days, tower: pad() }, newPad(48.4));
    const weekly = kept({ days, tower: pad() }, ...every(7, days, newPad));
    const excess = (from: number, to: number) => ammonia(alone, from, to) - ammonia(weekly, from, to);
    const figures = {
      seventy: spillsFrom(alone, 0.7),
      week3: excess(15, 21),
      week5: excess(29, 35),
      week7: excess(42, 48),
      next: excess(49, 50),
      usual: ammonia(weekly, 42, 48),
    };
    tell("NI-16 by itself", figures);
    expect(figures.seventy).toBeGreaterThan(14);
    expect(figures.seventy).toBeLessThan(28);
    expect(figures.week5).toBeGreaterThan(1.3 * figures.week3);
    expect(figures.week7).toBeGreaterThan(1.3 * figures.week5);
    expect(figures.week7).toBeGreaterThan(0.8 * figures.usual);
    expect(figures.next).toBeLessThan(0.5 * figures.week7);
    const { exchange, layout } = alone.aquarium;
    const { flows } = coefficients(alone.aquarium, alone.operating.at(-1)!);
    const returned = exchange.flows.find((flow) => flow.to === 0)!.m3PerDay;
    expect(flows[layout.wiring.ways.findIndex((way) => way.to === 0)]).toBeCloseTo(returned, 9);
  });

  it("clogs sooner if it is finer or smaller, or if more is fed (common practice, no published source)", () => {
    const tenth = (o: TankOptions) => spillsFrom(kept({ days: 40, ...o }), 0.1);
    const [fine, medium] = [tenth({ tower: pad() }), tenth({ tower: pad({ grade: "medium" }) })];
    tell("a tenth spills on day", { fine, medium });
    expect(fine).toBeLessThan(0.7 * medium);
    expect(tenth({ tower: pad({ areaM2: 0.06 }) })).toBeLessThan(0.6 * fine);
    expect(tenth({ tower: pad(), groups: [group(20)] })).toBeLessThan(0.75 * fine);
  });

  it("of medium floss on 0.1 m2 under 10 g of food a day is due in two to four weeks (common practice, no published source)", () => {
    const day = spillsFrom(kept({ days: 40, groups: [group(10)], tower: pad({ grade: "medium", areaM2: 0.1 }) }), 0.1);
    expect(day).toBeGreaterThan(14);
    expect(day).toBeLessThan(28);
  });

  it("that spills onto the media does not reduce the flow over them: the water bypasses only the pad", () => {
    const small = { areaM2: 0.08 };
    const past = kept({ days: 45, tower: pad(small) });
    const onto = kept({ days: 45, tower: pad({ ...small, spillsTo: "media" }) });
    const none = kept({ days: 45, tower: { prefilter: null } });
    expect(spill(onto, 40)).toBeGreaterThan(0.7);
    expect(ammonia(past, 40, 45)).toBeGreaterThan(1.3 * ammonia(none, 40, 45));
    expect(ammonia(onto, 40, 45)).toBeCloseTo(ammonia(none, 40, 45), 2);
  });

  it("starts as clogged as the scenario states, clogs further, and is clean after a change", () => {
    const start = kept({ days: 10, tower: pad({ blindedShare: 0.3 }) });
    expect(spill(start, 0)).toBeCloseTo(0.3, 9);
    expect(spill(start, 9)).toBeGreaterThan(0.5);
    const told = kept({ days: 10 }, { day: 3, label: "floss", kind: "pad clogs", blindedShare: 1 }, newPad(6));
    expect(spill(told, 2.9)).toBeLessThan(1e-3);
    expect(spill(told, 3.1)).toBe(1);
    expect(spill(told, 6.1)).toBeLessThan(1e-3);
  });
});

it("sediment grows while nobody siphons, faster with a higher settling velocity, and siphoning leaves a fifth", () => {
  const siphon: ManagementEvent = { day: 20.3, label: "siphon", kind: "siphon sediment" };
  const run = kept({ days: 30, tower: { prefilter: null } }, siphon, newPad(25));
  const padded = kept({ days: 30 });
  const mud = (of: Run, day: number) => of.solidsInventory[of.days.findIndex((d) => d > day)].mudM[0];
  expect(mud(run, 20)).toBeGreaterThan(1.5 * mud(run, 8));
  expect(mud(run, 20.3) / mud(run, 20.2)).toBeCloseTo(0.2, 1);
  expect(mud(padded, 20)).toBeLessThan(0.5 * mud(run, 20));
  // There is no pad with which solids could be removed.
  expect([...run.solids.out.keys()]).toEqual(["sediment siphoned"]);
  expect(unexplained(run)).toBeLessThan(1e-12);
});

describe("a chamber that fills with sediment", () => {
  it("retains as a basin does, whatever its depth, until it is nearly full, and nothing when it is full", () => {
    expect(retentionAt(0.2)).toBeGreaterThan(0.99);
    expect(retentionAt(0.5)).toBeCloseTo(1 - 1 / 16, 12);
    expect(retentionAt(1)).toBe(0);
    expect(retentionAt(1.3)).toBe(0);
  });

  it.each([["meals"], ["even"]])(
    "never holds more than its water has room for; what it cannot hold lies elsewhere (%s)",
    (how) => {
      const o: TankOptions = { litres: 10, groups: [group(100)], tower: { prefilter: null }, days: 14 };
      const run = keepTank({ ...o, run: { evenFeeding: how === "even" } });
      expect(run.outcome.status).toBe("finished");
      const { chamberCells, exchange, rig } = run.aquarium;
      const depthM = exchange.volumesM3[chamberCells[0]] / (rig.sump.lengthM * rig.sump.widthM);
      const deepest = Math.max(...run.solidsInventory.map(({ mudM }) => mudM[0]));
      expect(deepest / depthM).toBeGreaterThan(0.9);
      // Between two looks at a place that fills it may pass its share by a look.
      expect(deepest / depthM).toBeLessThan(1.03);
      const full = run.days.findIndex((_, n) => run.operating[n].retention[chamberCells[0]] < 0.5);
      const elsewhere = (n: number) => run.solidsInventory[n].allDryG - run.solidsInventory[n].chamberDryG[0];
      expect(elsewhere(run.days.length - 1)).toBeGreaterThan(elsewhere(full));
      expect(unexplained(run)).toBeLessThan(1e-12);
    },
  );
});
