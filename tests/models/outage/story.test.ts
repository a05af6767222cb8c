// Simulated outages in the nitrogen model: the days before, the hours without power, and the rise of ammonia and
// nitrite afterwards.
import seedrandom from "seedrandom";
import { describe, expect, it } from "vitest";
import { planCells, runningExchange } from "../../../models/coupling/exchange.ts";
import { cutAndRestart } from "../../../models/hydraulics/outage/outage-simulation.ts";
import type { ManagementEvent } from "../../../models/nitrogen/events/all.ts";
import { parameterValues } from "../../../models/nitrogen/kinetics/parameters.ts";
import { type BiofilmStock, type PlannedModel, type Run, runSimulation } from "../../../models/nitrogen/simulation/simulation.ts";
import { buildNitrogenModel } from "../../../models/nitrogen/tank/nitrogen-model.ts";
import { outageClocks } from "../../../models/outage/clocks.ts";
import { type Cut, restOf } from "../../../models/outage/cut.ts";
import { outageLoss } from "../../../models/outage/media-clock.ts";
import { drownedShare } from "../../../models/outage/media-drying.ts";
import type { Rig } from "../../../models/rig.ts";
import { rigR, towerOverSump } from "../hydraulics/rigs.ts";
import { asN, at, daysAbove, everyDay, group, peak, seen, type TankOptions, tank, tap, tell } from "../nitrogen/cases.ts";
import { JUST_FED, outageOf, plainCut, powerCut, restOfTank, runTrials, settled, withClosedFilter } from "./rest.ts";

/** Display to which each overflow, drain and nozzle belongs. */
const displayOf = (rig: Rig): Record<string, string> =>
  Object.fromEntries([
    ...rig.return.nozzles.map((nozzle) => [nozzle.id, nozzle.display]),
    ...rig.displays.flatMap((d) => d.overflows.flatMap((o) => [o, ...o.drains].map((part) => [part.id, d.id]))),
  ]);

/** Runs an aquarium with the outage callbacks and a hand-made stop and restart. */
function live(aquarium: PlannedModel, biofilm: BiofilmStock = settled(aquarium), relative = 1e-4): Run {
  const rest = restOfTank(aquarium);
  const run = runSimulation(aquarium, {
    outputsPerDay: 12,
    relative,
    begin: biofilm,
    ...outageOf(aquarium, rest),
    outageLoss: outageLoss(rest, aquarium),
  });
  expect(run.outcome.status).toBe("finished");
  return run;
}

const food = (day: number, factor: number): ManagementEvent => ({
  kind: "feed",
  day,
  label: "food",
  group: null,
  factor,
  extraGPerDay: 0,
});

describe("CO-1: 400 L, 4 kg, 27 °C, just fed, 4 h in the evening", () => {
  const fish = group(40, { count: 10, massG: 400, feedingHours: [9, 19] });
  const tankOf = (batteryAir: boolean, hours = 4, small = false) => {
    const changes = everyDay(1, 11, (day) => ({
      kind: "water change" as const,
      day,
      label: "change",
      share: 0.25,
      tap: tap({ temperatureC: 27, dKh: 10 }),
    }));
    // Strong pumps, 1200 L/h in all. The small one that is taken where nobody says more does not carry four kilograms of fish.
    const cut = powerCut(5.83, { hours, batteryAir, ...(small ? {} : { batteryAirM3PerH: 1.2 }) });
    const events = [...changes, ...(hours > 0 ? [cut] : [])].sort((a, b) => a.day - b.day);
    return tank({ litres: 400, temperatureC: 27, mediaLitres: 120, dKh: 10, groups: [fish], days: 12, seed: 1, events });
  };

  it("the sump of rig R HOLDS and yet the fish are in danger (fails if they survive because nothing floods)", () => {
    const rig = rigR();
    const story = cutAndRestart(rig);
    expect(story.verdict.word).toBe("HOLDS");
    const evening = { ...tankOf(false), management: { ...tankOf(false).management, days: JUST_FED, events: [] } };
    const cut = { ...plainCut, hours: 4 };
    const { rest, tried } = runTrials(evening, cut);
    const clocks = outageClocks(rest, cut, tried);
    const air = clocks.find((clock) => clock.id === "fish-air");
    expect(air?.redH?.[0]).toBeLessThan(2);
    expect(air?.redH?.[1]).toBeGreaterThan(1);
  });

  it("with battery air the fish have enough oxygen; afterwards a faint reading for a day or two, then as without an outage", () => {
    const [bare, aired] = [false, true].map((batteryAir) => live(tankOf(batteryAir)));
    const never = live(tankOf(true, 0));
    const lowest = (run: Run) =>
      Math.min(
        ...seen(run, "o2")
          .filter((p) => p.day > 5.83 && p.day < 6.02)
          .map((p) => p.value),
      );
    expect(lowest(aired)).toBeGreaterThan(3);
    const weak = lowest(live(tankOf(true, 4, true)));
    expect(weak).toBeGreaterThan(lowest(bare));
    // Under 3 mg/L, the one-day minimum of the US EPA (1986) for warm water: the model gives 1.4.
    expect(weak).toBeLessThan(2);
    expect(lowest(bare)).toBeLessThan(3);
    tell("CO-1, lowest oxygen", { bare: lowest(bare), smallPump: weak, aired: lowest(aired) });
    const most = (run: Run, from: number, to: number) => peak(seen(run, "tan"), from, to).value;
    expect(most(aired, 5.83, 7)).toBeGreaterThan(most(never, 5.83, 7));
    expect(most(aired, 8.5, 12)).toBeLessThan(1.15 * most(never, 8.5, 12));
    expect(peak(seen(aired, "no2"), 5.83, 12).value).toBeLessThan(0.5);
  });
});

describe("CO-2: 400 L, 0.6 kg, 36 h, 24 °C, unfed meanwhile", () => {
  const options: TankOptions = {
    litres: 400,
    temperatureC: 24,
    mediaLitres: 40,
    groups: [group(8, { count: 20, massG: 30 })],
    seed: 1,
    days: 25,
    tower: { lid: "vented" },
  };
  const livedThrough = (cut: Partial<Cut>) =>
    live(tank({ ...options, events: [food(5, 0), powerCut(5, { hours: 36, stirEveryHours: 3, ...cut }), food(6.5, 1)] }));
  const shut = livedThrough({ mistEveryHours: 4 });
  const open = livedThrough({ towerOpen: true, room: { temperatureC: 23, relativeHumidity: 0.3 } });

  it("(a) shut and misted: no danger to the fish with occasional stirring, the filter recovers within a day or two, faint nitrite", () => {
    const oxygen = seen(shut, "o2").filter((p) => p.day > 5 && p.day < 6.5);
    expect(Math.min(...oxygen.map((p) => p.value))).toBeGreaterThan(3);
    const before = at(seen(shut, "tan"), 4.9);
    expect(peak(seen(shut, "tan"), 8.5, 25).value).toBeLessThan(1.6 * before);
    // As nitrite ion below the lowest step of most kits, 0.5 mg/L.
    expect(peak(seen(shut, "no2"), 6.5, 25).value / asN.NO2).toBeLessThan(0.5);
  });

  it("(b) door open in a dry heated room: ammonia, then nitrite for about a week (fails if both cuts come out alike; practice has 0.5 to 2 mg/L, the model 0.4 to 0.5)", () => {
    const [ammonia, nitrite] = [peak(seen(open, "tan"), 6.5), peak(seen(open, "no2"), 6.5)];
    tell("CO-2 (b)", { ammonia: ammonia.value / asN.NH3, nitrite: nitrite.value / asN.NO2 });
    // Disagrees a little: practice has 0.5 to 2 mg/L of both, the model 0.43 and 0.49.
    expect(ammonia.value / asN.NH3).toBeGreaterThan(0.4);
    expect(ammonia.value / asN.NH3).toBeLessThan(0.5);
    expect(nitrite.value / asN.NO2).toBeGreaterThan(0.45);
    expect(nitrite.value / asN.NO2).toBeLessThan(0.55);
    expect(nitrite.day).toBeGreaterThan(ammonia.day);
    // Readable, and twice the value before the outage, for three days to two weeks.
    const before = at(seen(open, "no2"), 4.9);
    const readable = daysAbove(
      seen(open, "no2").filter((p) => p.day > 6.5),
      2 * before,
    );
    expect(readable).toBeGreaterThan(3);
    expect(readable).toBeLessThan(14);
    expect(nitrite.value).toBeGreaterThan(1.5 * peak(seen(shut, "no2"), 6.5).value);
  });
});

describe("a keeper's diary of 4.5 days: pump failed, media kept submerged in tank water at 78 °F, air in the display (common practice, no published source)", () => {
  // In the diary the media stay at 78 °F, so the room is as warm.
  const room = { temperatureC: 26, relativeHumidity: 0.7 };
  const cut = powerCut(10, { hours: 108, everythingOff: false, batteryAir: true, fedMeanwhile: true, room });
  const base = tank({
    litres: 300,
    temperatureC: 25.6,
    mediaLitres: 0.5,
    otherSurfaceM2: 1.5,
    groups: [group(4, { count: 10, massG: 10 })],
    days: 20,
    // The diary does not give nitrate: 10 mg/L as N, 44 as NO3, when the pump fails, as in an ordinary tank.
    no3: 4.5,
    events: [cut],
  });
  const media = { kind: "hollow plastic ball 40 mm", volumeM3: 0.03, specificSurfaceM2PerM3: 160, voidShare: 0.92 };
  const rig: Rig = {
    ...base.rig,
    sump: { ...base.rig.sump, chambers: [{ ...base.rig.sump.chambers[0], submergedMedia: media }] },
  };
  const diaryOf = (changes: TankOptions["changes"] = {}) =>
    buildNitrogenModel(rig, base.management, base.cells, base.exchange, parameterValues(changes));
  const aquarium = diaryOf();
  const run = live(aquarium);
  const [tan, no2] = [seen(run, "tan"), seen(run, "no2")];
  const back = 14.5;

  tell("diary (mg/L as NH3 and NO2), before, day 4, a day after, four days after", {
    ...Object.fromEntries([9.9, 14, back, back + 1, back + 4].map((day) => [`NH3 ${day}`, at(tan, day) / asN.NH3])),
    ...Object.fromEntries([9.9, 14, back, back + 1, back + 4].map((day) => [`NO2 ${day}`, at(no2, day) / asN.NO2])),
  });

  it("nitrite stays below ammonia meanwhile, since slow nitrite oxidisers take up traces (disagrees: the diary has it above)", () => {
    // Diary on day 4: 0.15 and 0.4 mg/L. The model: 0.87 and 0.30.
    expect(at(no2, 14) / asN.NO2).toBeLessThan(0.4);
    expect(at(tan, 14) / asN.NH3).toBeGreaterThan(2 * (at(no2, 14) / asN.NO2));
    expect(at(tan, 14) / asN.NH3).toBeLessThan(1.2);
  });

  it("on day 4 ammonia and nitrite are both readable (diary 0.15 and 0.4 mg/L)", () => {
    expect(at(tan, 14) / asN.NH3).toBeGreaterThan(0.15);
    expect(at(no2, 14) / asN.NO2).toBeGreaterThan(0.2);
    expect(at(tan, 14)).toBeGreaterThan(1.5 * at(tan, 9.9));
    expect(at(no2, 14)).toBeGreaterThan(1.5 * at(no2, 9.9));
  });

  it("a day after the restart ammonia and nitrite are on their way down (disagrees: the diary still has 0.7 mg/L of nitrite, the model 0.15)", () => {
    expect(at(tan, back + 1)).toBeLessThan(0.75 * at(tan, back));
    expect(at(no2, back + 1)).toBeLessThan(at(no2, back));
    expect(at(no2, back + 1) / asN.NO2).toBeGreaterThan(0.1);
    expect(at(no2, back + 1) / asN.NO2).toBeLessThan(0.3);
  });

  it("four days after both read nothing (disagrees: the diary still has 0.3 mg/L of nitrite, the model 0.08)", () => {
    expect(at(tan, back + 4)).toBeLessThan(1.1 * at(tan, 9.9));
    expect(at(no2, back + 4) / asN.NO2).toBeLessThan(0.25);
  });

  it("the filter keeps a reduced capacity", () => {
    const [film] = aquarium.filmOf.submerged;
    for (const guild of ["sao", "nob"] as const) {
      const stock = (day: number) => {
        const i = aquarium.layout.filmIndex(film, guild);
        const n = run.days.findIndex((d) => d >= day);
        return run.states[n][i];
      };
      expect(stock(back + 0.1) / stock(9.9)).toBeLessThan(0.9);
      expect(stock(back + 0.1) / stock(9.9)).toBeGreaterThan(0.1);
    }
  });
});

describe("from the hydraulic state of rest to the media", () => {
  it("a transient without its trace is refused in plain words", () => {
    const rig = towerOverSump();
    const story = cutAndRestart(rig, { keepTrace: false });
    const plan = planCells(story.running, displayOf(rig), []);
    const rest = () => restOf(rig, tank({}).management, plan, runningExchange(plan, story.running), story.cut);
    expect(rest).toThrow("without its trace");
  });

  it("HY-15: the level at rest submerges the lower media of the tower over the sump and leaves the upper media in air", () => {
    const rig = towerOverSump();
    const story = cutAndRestart(rig);
    const plan = planCells(story.running, displayOf(rig), []);
    const rest = restOf(rig, tank({}).management, plan, runningExchange(plan, story.running), story.cut);
    const drowned = drownedShare(rest, rig.towers[0]);
    // 160 mm of 300, as the case gives for an OFF level of 360 mm; the level itself is tested with the hydraulic model.
    expect(drowned).toBeCloseTo((rest.chamberLevelZ.sump - 0.2) / 0.3, 12);
    expect(drowned).toBeGreaterThan(0.2);
    expect(drowned).toBeLessThan(0.8);
    expect(rest.volumesM3.every((volume) => volume > 0)).toBe(true);
  });
});

/** `OUTAGE_PATTERNS=1000 npx vitest run ...` runs more of them. */
const PATTERNS = Number(process.env.OUTAGE_PATTERNS ?? 40);

describe(`${PATTERNS} random patterns of outages in a month (some seconds)`, () => {
  const base: TankOptions = { litres: 200, groups: [group(4)], days: 30, seed: 1, tower: { lid: "vented" } };
  const TOLERANCE = 1e-3;
  const tankWith = (events: ManagementEvent[]) => withClosedFilter(tank({ ...base, events }));
  const biofilm = settled(tankWith([]));

  const pattern = (n: number): ManagementEvent[] => {
    const random = seedrandom(`cuts ${n}`);
    const pick = <T>(...choices: readonly T[]): T => choices[Math.floor(random() * choices.length)];
    const cuts: ManagementEvent[] = [];
    for (let day = 0.2 + 4 * random(); day < 29; ) {
      const hours = pick(0.1, 0.5, 2, 5, 11, 26, 49);
      const pumpStuckHours = pick(0, 0, 0, 3, 15);
      cuts.push(
        powerCut(day, {
          hours,
          everythingOff: random() < 0.7,
          batteryAir: random() < 0.4,
          stirEveryHours: pick(null, null, 1.5, 6),
          mistEveryHours: pick(null, 1, 4),
          room: pick(null, { temperatureC: 12, relativeHumidity: 0.3 }, { temperatureC: 28, relativeHumidity: 0.8 }),
          towerOpen: random() < 0.3,
          fedMeanwhile: random() < 0.3,
          closedFilter: pick("restarted", "rinsed first", "left off"),
          pumpStuckHours,
        }),
      );
      day += (hours + pumpStuckHours) / 24 + 0.1 + 9 * random();
    }
    return cuts;
  };
  const runOf = (n: number) => live(tankWith(pattern(n)), biofilm, TOLERANCE);
  const bytes = (run: Run) => Buffer.concat(run.states.map((state) => Buffer.from(state.buffer))).toString("base64");

  it("nitrogen closes to 1e-8 of the input and no concentration is negative, whatever the pattern (conservation)", {
    timeout: 180_000,
  }, () => {
    let cuts = 0;
    for (let n = 0; n < PATTERNS; n++) {
      const run = runOf(n);
      cuts += pattern(n).length;
      const imbalance = (run.end.total - run.start.total - run.ledger.net) / run.ledger.turnover;
      expect(Math.abs(imbalance), `pattern ${n}`).toBeLessThan(1e-8);
      // A consumed substance may fall below zero by the integrator's own tolerance, a thousandth of its earlier value.
      const { layout } = run.aquarium;
      layout.absoluteTolerances().forEach((zero, i) => {
        let [least, most] = [0, 0];
        for (const state of run.states) {
          least = Math.min(least, state[i]);
          most = Math.max(most, state[i]);
        }
        expect(least, `${layout.labels[i]} in pattern ${n}`).toBeGreaterThanOrEqual(-(zero + 2 * TOLERANCE * most));
      });
    }
    expect(cuts).toBeGreaterThan(3 * PATTERNS);
  });

  it("without a closed filter no substance is used up, and none falls below zero", { timeout: 180_000 }, () => {
    const bare = settled(tank(base));
    for (let n = 0; n < PATTERNS; n++) {
      const run = live(tank({ ...base, events: pattern(n) }), bare, TOLERANCE);
      const lowest = run.states.reduce((min, state) => Math.min(min, ...state), Number.POSITIVE_INFINITY);
      // Rounding errors of the tolerance below zero are allowed, no more.
      expect(lowest, `pattern ${n}`).toBeGreaterThan(-1e-8);
    }
  });

  it("the same pattern gives the same bytes in any order of the runs", () => {
    const order = [3, 1, 4, 15];
    const forwards = order.map((n) => bytes(runOf(n)));
    const backwards = [...order].reverse().map((n) => bytes(runOf(n)));
    expect(backwards.reverse()).toEqual(forwards);
    expect(new Set(forwards).size).toBe(order.length);
  });
});
