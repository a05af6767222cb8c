// A closed filter in the nitrogen model: it nitrifies, collects solids, is cleaned by hand, and stands still during an outage.
import { describe, expect, it } from "vitest";
import type { ManagementEvent } from "../../../models/nitrogen/events/all.ts";
import { type Run, runSimulation } from "../../../models/nitrogen/simulation/simulation.ts";
import { systemAt } from "../../../models/nitrogen/tank/coefficients.ts";
import { outageLoss } from "../../../models/outage/media-clock.ts";
import { group, type TankOptions, tank } from "../nitrogen/cases.ts";
import { outageOf, powerCut, restOfTank, settled, withClosedFilter } from "./rest.ts";

const base: TankOptions = { litres: 200, groups: [group(4)], days: 12, seed: 1 };
const rinsing = (day: number, lostShare: number): ManagementEvent => ({
  day,
  label: "",
  kind: "rinse media",
  where: "canister",
  lostShare,
});
const biofilm = settled(withClosedFilter(tank(base)));
function live(...events: ManagementEvent[]): Run {
  const aquarium = withClosedFilter(tank({ ...base, events }));
  const run = runSimulation(aquarium, { outputsPerDay: 8, relative: 1e-3, begin: biofilm, ...outageOf(aquarium) });
  expect(run.outcome.status).toBe("finished");
  expect(Math.abs(run.end.total - run.start.total - run.ledger.net) / run.ledger.turnover).toBeLessThan(1e-8);
  return run;
}
const cell = 3;
const lying = (run: Run, day: number): number =>
  run.states[run.days.findIndex((d) => d >= day)][run.aquarium.layout.cellIndex(cell, "xd")];
/** Ammonia that its film oxidises on the last day [g N/d]. */
const work = (run: Run): number =>
  systemAt(run.aquarium, run.operating.at(-1)!).ammoniaOxidation(run.states.at(-1)!, run.aquarium.filmOf.closed[0]);

describe("a closed filter", () => {
  const usual = live();

  it("that stood a day without oxygen and nitrate has lost 26 % of its nitrite oxidisers and 10 % of its ammonia oxidisers beside starvation: three to nine times the 3 % that lack of oxygen alone costs (Siegrist et al. 1999; 0.3 and 0.1 1/d are modelling assumptions)", () => {
    const aquarium = withClosedFilter(tank(base));
    const loss = outageLoss(restOfTank(aquarium), aquarium);
    const foul = { anoxicHours: 24, areaM2: 1, o2GPerM2Day: 0.5, no3GPerM3: 0 };
    const { aob, nob } = loss(powerCut(1), aquarium.filmOf.closed[0], foul);
    expect(aob).toBeCloseTo(1 - Math.exp(-0.1), 6);
    expect(nob).toBeCloseTo(1 - Math.exp(-0.3), 6);
  });

  it("nitrifies a share of the load, and less after losing half its film", () => {
    expect(work(usual)).toBeGreaterThan(0);
    const rinsed = live(rinsing(11.5, 0.5));
    expect(work(rinsed)).toBeLessThan(0.95 * work(usual));
  });

  it("opened and rinsed after a short cut keeps nine tenths of its film (modelling assumption)", () => {
    const film = (closedFilter: "restarted" | "rinsed first") => {
      const run = live(powerCut(5, { hours: 1, closedFilter }));
      const n = run.days.findIndex((day) => day > 5.1);
      return run.states[n][run.aquarium.layout.filmIndex(run.aquarium.filmOf.closed[0], "sno")];
    };
    expect(film("rinsed first") / film("restarted")).toBeGreaterThan(0.88);
    expect(film("rinsed first") / film("restarted")).toBeLessThan(0.92);
  });

  it("collects solids, which rinsing removes and siphoning the sump does not", () => {
    expect(lying(usual, 11)).toBeGreaterThan(lying(usual, 1));
    const rinsed = live(rinsing(8, 0.1));
    expect(lying(rinsed, 8.1) / lying(usual, 8.1)).toBeLessThan(0.2);
    expect(rinsed.ledger.out.get("closed filters rinsed")).toBeGreaterThan(0);
    const siphoned = live({ day: 8, label: "", kind: "siphon sediment" });
    expect(lying(siphoned, 8.1)).toBeCloseTo(lying(usual, 8.1), 1);
  });

  it("runs out of oxygen in an outage while the tank, with battery air, does not; it stays so when left off and recovers when restarted", () => {
    const oxygen = (run: Run, day: number, c: number): number =>
      run.states[run.days.findIndex((d) => d >= day)][run.aquarium.layout.cellIndex(c, "o2")];
    const cut = { hours: 30, batteryAir: true };
    const [on, off] = (["restarted", "left off"] as const).map((closedFilter) => live(powerCut(5, { ...cut, closedFilter })));
    expect(oxygen(on, 6.2, cell)).toBeLessThan(0.5);
    expect(oxygen(on, 6.2, 0)).toBeGreaterThan(5);
    expect(oxygen(on, 7, cell)).toBeGreaterThan(5);
    expect(oxygen(off, 11, cell)).toBeLessThan(0.5);
    expect(work(off)).toBeLessThan(0.05 * work(on));
  });

  it("keeps running when only the return pump stops", () => {
    const run = live(powerCut(5, { hours: 30, everythingOff: false }));
    const [record] = run.cuts;
    const lowest = Math.min(...record.oxygen.slice(0, record.inCut).map((cells) => cells[cell]));
    const display = Math.min(...record.oxygen.slice(0, record.inCut).map((cells) => cells[0]));
    expect(lowest).toBeGreaterThan(0.7 * display);
  });
});
