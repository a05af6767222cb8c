// Every kind of planned event is recorded, keeps nitrogen and solids balanced, and does not change the days before it.
import { describe, expect, it } from "vitest";
import { type EventBody, eventKinds, type ManagementEvent } from "../../../models/nitrogen/events/all.ts";
import type { RunningHeat } from "../../../models/nitrogen/operation/water-heat.ts";
import type { Run } from "../../../models/nitrogen/simulation/simulation.ts";
import { plainCut } from "../outage/rest.ts";
import { group, keepTank, type TankOptions, tap } from "./cases.ts";

/** One example of each kind. A new kind is a type error here until it has its line. */
const examples: { readonly [K in EventBody["kind"]]: Extract<EventBody, { readonly kind: K }> } = {
  dose: { kind: "dose", substance: "ammonia", amount: 0.2, toLevel: null, onlyBelow: null },
  feed: { kind: "feed", group: null, factor: 2, extraGPerDay: 1 },
  "water change": { kind: "water change", share: 0.3, tap: tap({}, { chloramineGPerM3: 1, treated: false, salinityGPerKg: 2 }) },
  "rinse media": { kind: "rinse media", where: null, lostShare: 0.5 },
  "replace media": { kind: "replace media", where: "tower", share: 0.5 },
  medicine: { kind: "medicine", aobLost: 0.3, nobLost: 0.5, inhibition: 0.5, lastsDays: 1 },
  death: { kind: "death", massG: 20, foundDay: null },
  "power cut": { kind: "power cut", ...plainCut, hours: 5, batteryAir: true, stirEveryHours: 2 },
  wetting: { kind: "wetting", tower: null, wettedShare: 0.2 },
  "pad clogs": { kind: "pad clogs", blindedShare: 0.7 },
  "change pad": { kind: "change pad" },
  "siphon sediment": { kind: "siphon sediment" },
  lid: { kind: "lid", state: "sealed" },
  "air stone": { kind: "air stone", transferPerDay: 20 },
  "foam fractionator": { kind: "foam fractionator", on: false },
  temperature: { kind: "temperature", setpointC: 30 },
  plants: { kind: "plants", uptakeGNPerDay: 0.2 },
  weather: { kind: "weather", dayC: 34, nightC: 26, lastsDays: 1 },
};
const DAY = 3.3;
const keep = (...events: ManagementEvent[]): Run => {
  const options: TankOptions = {
    litres: 120,
    days: 5,
    seed: 0.5,
    groups: [group(2)],
    foamFractionator: { flowM3PerDay: 3, removalShare: 0.5 },
    events,
  };
  return keepTank({ ...options, run: { outputsPerDay: 4, relative: 1e-3, runningHeat: followsWeather } });
};
/** Water that takes on the room's warmth at once in hot weather, and keeps its own otherwise. */
const followsWeather: RunningHeat = {
  even: () => true,
  next: ({ weather }, temperatureC) => temperatureC.map((t) => weather?.dayC ?? t),
};
const statesBefore = (run: Run, day: number): number[][] =>
  run.states.filter((_, n) => run.days[n] < day).map((state) => [...state]);

describe("every kind of event", () => {
  const plain = keep();

  it("has an example here", () => expect([...eventKinds].sort()).toEqual(Object.keys(examples).sort()));

  for (const body of Object.values(examples))
    it(`${body.kind}: is recorded, changes the run, keeps nitrogen and solids balanced, and does not change the days before`, () => {
      const run = keep({ day: DAY, label: "an event", ...body });
      expect(run.outcome.status).toBe("finished");
      expect(run.marks).toContainEqual({ day: DAY, kind: body.kind, label: "an event" });
      expect([...run.states.at(-1)!]).not.toEqual([...plain.states.at(-1)!]);
      expect(statesBefore(run, 3)).toEqual(statesBefore(plain, 3));
      expect(run.operating.filter((_, n) => run.days[n] < 3)).toEqual(plain.operating.filter((_, n) => run.days[n] < 3));
      const { start, end, ledger, inertG, solids } = run;
      expect(Math.abs(end.total - start.total - ledger.net) / ledger.turnover).toBeLessThan(1e-9);
      expect(Math.abs(inertG.end - inertG.start - solids.net) / solids.turnover).toBeLessThan(1e-9);
    });
});

it("an air stone brings oxygen closer to saturation from its day on, and has no effect in an outage without a battery", () => {
  const oxygen = (run: Run, day: number): number =>
    run.states[run.days.findIndex((d) => d >= day)][run.aquarium.layout.cellIndex(0, "o2")];
  const stone: ManagementEvent = { day: 2, label: "stone", kind: "air stone", transferPerDay: 50 };
  const cut: ManagementEvent = { day: 3, label: "cut", kind: "power cut", ...plainCut, hours: 12 };
  const [plain, bubbling, dark, still] = [keep(), keep(stone), keep(stone, cut), keep(cut)];
  expect(oxygen(bubbling, 1.5)).toBe(oxygen(plain, 1.5));
  expect(oxygen(bubbling, 2.5)).toBeGreaterThan(oxygen(plain, 2.5) + 0.02);
  expect(oxygen(dark, 3.4) - oxygen(still, 3.4)).toBeLessThan(0.1);
});
