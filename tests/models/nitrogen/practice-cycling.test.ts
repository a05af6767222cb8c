// Starting a tank, compared with the expectations of experienced keepers (common practice, no published source): NI-1 to
// NI-8.
import { describe, expect, it } from "vitest";
import { NOTHING_ON_A_KIT, Trial } from "../../../models/nitrogen/analysis/capacity.ts";
import type { ManagementEvent } from "../../../models/nitrogen/events/all.ts";
import { type Run, runSimulation, sampledState } from "../../../models/nitrogen/simulation/simulation.ts";
import { inoculatedStock, matureStock } from "../../../models/nitrogen/tank/biofilm-stock.ts";
import { ammoniumPka, unionisedFraction } from "../../../models/water/ammonia.ts";
import {
  asN,
  at,
  daysAbove,
  doses,
  dosing,
  eqPerDkh,
  firstBelow,
  group,
  keepTank,
  peak,
  readyDay,
  seen,
  type TankOptions,
  tank,
  tell,
  waterChanges,
} from "./cases.ts";

const KIT_STEP = { tan: 0.25 * asN.NH3, no2: 0.25 * asN.NO2 };
const KIT_TOP_NO2 = 5 * asN.NO2;

/** NI-1: 180 L fresh, 27 °C, pH 7.8, KH 8, no inoculum, 3 mg/L as NH3, dosed again only when cleared. */
const plain: TankOptions = { temperatureC: 27, tan: 3 * asN.NH3, co2Share: "holds the pH", days: 50, events: dosing(3, 50) };
let plainRun: Run | undefined;
const runPlain = (): Run => {
  plainRun ??= keepTank(plain);
  return plainRun;
};
/** Bicarbonate to a KH of 8, at an interval in days. */
const bufferedEvery = (every: number, days: number): ManagementEvent[] =>
  Array.from({ length: Math.floor((days - 1.5) / every) }, (_, i) => ({
    day: every * i + 1.5,
    label: "bicarbonate",
    kind: "dose",
    substance: "bicarbonate",
    amount: null,
    toLevel: 8 * eqPerDkh,
    onlyBelow: null,
  }));
const finished = (run: Run): Run => {
  expect(run.outcome.status).toBe("finished");
  return run;
};

describe("starting a tank", () => {
  it("NI-1 plain fishless: ammonia first, nitrite off the chart for a week, done in week 4 to 6", () => {
    const run = finished(runPlain());
    const [tan, no2, no3] = [seen(run, "tan"), seen(run, "no2"), seen(run, "no3")];
    const nitriteSeen = no2.find((p) => p.value > KIT_STEP.no2)!.day;
    const cleared = firstBelow(tan, KIT_STEP.tan, 1);
    const ready = readyDay(run);
    const offChart = daysAbove(no2, KIT_TOP_NO2);
    const nitrate = at(no3, ready) / asN.NO3;
    tell("NI-1", { nitriteSeen, cleared, offChart, ready, nitrate, doses: doses(run) });
    expect(nitriteSeen).toBeGreaterThan(3);
    expect(nitriteSeen).toBeLessThan(14);
    expect(cleared).toBeGreaterThan(7);
    expect(cleared).toBeLessThan(21);
    // Nitrite is high only after ammonia has fallen.
    expect(peak(no2, 0, cleared + 4).day).toBeGreaterThan(cleared - 1);
    expect(offChart).toBeGreaterThan(6);
    expect(offChart).toBeLessThan(15);
    expect(ready).toBeGreaterThan(27);
    expect(ready).toBeLessThan(43);
    expect(nitrate).toBeGreaterThan(20);
    expect(nitrate).toBeLessThan(81);
    // The same in the air that a scenario assumes, where the pH goes to 8.5.
    const aired = readyDay(finished(keepTank({ ...plain, co2Share: 700e-6 })));
    tell("NI-1 in a room of 700 ppm", { aired });
    expect(aired).toBeGreaterThan(27);
    expect(aired).toBeLessThan(43);
    // Late doses clear overnight.
    const late = run.days.findIndex((day) => day > ready + 0.95);
    expect(run.states[late][run.aquarium.layout.cellIndex(0, "tan")]).toBeLessThan(KIT_STEP.tan);
  });

  it("NI-2 seeded with a quarter of a mature filter: days, not weeks, and ready at once for about a quarter of the donor's food", () => {
    // Practice does not state the donor's food. Three grams a day are between the other mature tanks of the catalogue (1.4
    // to 4.8 g in 180 L).
    // At 2 g the first dose clears on day 4.1; at 4 g, where fast oxidisers dominate the donor's film, on day 1.5.
    const donorFood = 3;
    const donor = tank({ temperatureC: 27, groups: [group(donorFood)] });
    const biofilm = matureStock(donor);
    const aquarium = tank({ ...plain, days: 20, events: dosing(3, 20) });
    const run = finished(
      runSimulation(aquarium, {
        outputsPerDay: 12,
        relative: 1e-4,
        begin: inoculatedStock(aquarium, biofilm, 0.25, "media"),
        stop: null,
      }),
    );
    const cleared = firstBelow(seen(run, "tan"), KIT_STEP.tan, 0.5);
    const bump = peak(seen(run, "no2"), 0, 10).value;
    const ready = readyDay(run);
    const limits = { tanGPerM3: KIT_STEP.tan, no2GPerM3: KIT_STEP.no2 };
    const empty = tank({ temperatureC: 27 });
    const first = runSimulation(empty, {
      outputsPerDay: 12,
      relative: 1e-4,
      begin: inoculatedStock(empty, biofilm, 0.25, "media"),
      stop: null,
    });
    const atOnce = new Trial(empty).foodCapacityGPerDay(sampledState(first, 0), 0.45, limits);
    tell("NI-2", { cleared, bump: bump / asN.NO2, ready, atOnce, quarter: donorFood / 4 });
    expect(cleared).toBeGreaterThan(1.9);
    expect(cleared).toBeLessThan(5);
    expect(bump).toBeLessThan(peak(seen(runPlain(), "no2")).value * 0.75);
    expect(ready).toBeGreaterThan(5);
    expect(ready).toBeLessThan(13);
    expect(atOnce).toBeGreaterThan(0.5 * (donorFood / 4));
    expect(atOnce).toBeLessThan(2.5 * (donorFood / 4));
  });

  it("NI-3 cold, 17 °C: the same shape, about twice as long", () => {
    const run = finished(keepTank({ ...plain, temperatureC: 17, days: 95, events: dosing(3, 95) }));
    const ready = readyDay(run);
    const warm = readyDay(runPlain());
    tell("NI-3", { ready, warm });
    expect(ready).toBeGreaterThan(1.6 * warm);
    expect(ready).toBeLessThan(2.6 * warm);
    expect(ready).toBeGreaterThan(55);
    expect(ready).toBeLessThan(86);
  });

  it("NI-4 soft water: stops after about two doses with the KH exhausted and pH near 6; bicarbonate restarts it within days", () => {
    const soft: TankOptions = { ...plain, dKh: 2, ph: 7.2, days: 60, events: dosing(3, 60, "when cleared", "ammonium") };
    const run = finished(keepTank(soft));
    const stalled = firstBelow(seen(run, "alk"), 0.1 * 2 * eqPerDkh, 1);
    const given = run.marks.filter((mark) => mark.kind === "dose" && mark.day <= stalled).length + 1;
    // A third dose remains uncleared; five days later somebody adds bicarbonate.
    const third = Math.ceil(stalled) + 1;
    const rescueDay = third + 6;
    const more = (day: number, substance: "ammonium" | "bicarbonate", toLevel: number): ManagementEvent => ({
      day,
      label: substance,
      kind: "dose",
      substance,
      amount: null,
      toLevel,
      onlyBelow: null,
    });
    const events = [
      ...soft.events!.filter((event) => event.day < third),
      more(third, "ammonium", 3 * asN.NH3),
      more(rescueDay, "bicarbonate", 8 * eqPerDkh),
    ];
    const rescued = finished(keepTank({ ...soft, events, days: rescueDay + 5 }));
    const tan = seen(rescued, "tan");
    const ph = rescued.ph[rescued.days.findIndex((day) => day > rescueDay - 0.1)][0];
    const lying = [at(tan, third + 1), at(tan, rescueDay - 0.1)];
    const after = at(tan, rescueDay + 3);
    tell("NI-4", { stalled, given, ph, lyingFirst: lying[0], lyingLast: lying[1], after });
    expect(stalled).toBeGreaterThan(8);
    expect(given).toBeGreaterThanOrEqual(2);
    expect(given).toBeLessThanOrEqual(3);
    expect(ph).toBeLessThan(6.5);
    expect(ph).toBeGreaterThan(5.3);
    expect(lying[1]).toBeGreaterThan(0.9 * lying[0]);
    expect(after).toBeLessThan(0.7 * lying[1]);
  });

  it("NI-5 overdosing, 5 mg/L every day: nitrite far above any kit, KH exhausted, not done two weeks after the plain case; with KH maintained, still later", () => {
    const hasty = { ...plain, days: 70, events: dosing(5, 70, "always") };
    const run = finished(keepTank(hasty));
    const weekThree = seen(run, "tan");
    const no2 = peak(seen(run, "no2")).value / asN.NO2;
    const alkalinityLeft = seen(run, "alk").at(-1)!.value;
    const ready = readyDay(run);
    const plainReady = readyDay(runPlain());
    const kept = finished(keepTank({ ...hasty, events: [...hasty.events, ...bufferedEvery(2, 70)] }));
    const keptReady = readyDay(kept);
    const nitrate = peak(seen(kept, "no3")).value / asN.NO3;
    // In the air that a scenario assumes the pH is higher, so more of the ammonia is free and slows nitrite oxidation.
    const air = { co2Share: 700e-6 };
    const airedPlain = readyDay(keepTank({ ...plain, ...air }));
    const airedKept = readyDay(finished(keepTank({ ...hasty, ...air, events: [...hasty.events, ...bufferedEvery(2, 70)] })));
    tell("NI-5", {
      tanWeek3: at(weekThree, 20.9),
      no2,
      alkalinityLeft,
      ready,
      plainReady,
      keptReady,
      airedPlain,
      airedKept,
      nitrate,
    });
    expect(no2).toBeGreaterThan(20);
    expect(alkalinityLeft).toBeLessThan(0.3);
    expect(ready).toBeGreaterThan(plainReady + 14);
    // With the KH maintained by hand the delay is shorter: the larger load to be cleared remains.
    expect(keptReady).toBeGreaterThan(plainReady + 5);
    expect(airedKept).toBeGreaterThan(airedPlain + 10);
    expect(nitrate).toBeGreaterThan(200);
    // By week three ammonia oxidation is strong: an evening dose is cleared by the next morning.
    expect(at(seen(kept, "tan"), 20.9)).toBeLessThan(0.5);
  });

  const fishIn: TankOptions = {
    litres: 100,
    temperatureC: 26,
    days: 60,
    seed: 1e-3,
    groups: [group(0.4, { count: 6, massG: 3 })],
  };

  it("NI-6 fish-in with water changes: nitrite peaks in week 3 to 4, and the changes do not stop it (disagrees on nitrite: practice reads up to 1 mg/L, the model 3.8)", () => {
    const run = finished(keepTank({ ...fishIn, events: waterChanges(fishIn, 60, 0.3, 2) }));
    const left = finished(keepTank(fishIn));
    const [tan, no2] = [peak(seen(run, "tan")), peak(seen(run, "no2"))];
    const done = seen(run, "no2").findLast((p) => p.value > KIT_STEP.no2)!.day;
    const doneWithout = seen(left, "no2").findLast((p) => p.value > KIT_STEP.no2)!.day;
    tell("NI-6 (g N/m3)", { tan: tan.value, tanDay: tan.day, no2: no2.value, no2Day: no2.day, done, doneWithout });
    expect(tan.value).toBeGreaterThan(0.25);
    expect(tan.value).toBeLessThan(0.8);
    // Disagrees: practice reads 0.25 to 1 mg/L of nitrite ion. The nitrogen of two days of food, divided by the 30 % of
    // water changed, is the plateau that only bacteria can lower; here they do so only from week 4.
    const plateau = (0.4 * 0.98 * 0.45 * 0.16 * 0.64 * 2) / 0.1 / 0.3;
    const practice = 1 * asN.NO2;
    expect(no2.value).toBeGreaterThan(practice);
    expect(no2.value).toBeGreaterThan(0.8 * plateau);
    expect(no2.value).toBeLessThan(plateau);
    expect(no2.day).toBeGreaterThan(14);
    expect(no2.day).toBeLessThan(30);
    expect(done).toBeGreaterThan(24);
    expect(done).toBeLessThan(50);
    // Bacteria are on surfaces, so water changes do not restart the cycle.
    expect(done).toBeLessThan(doneWithout + 7);
    expect(no2.value).toBeLessThan(peak(seen(left, "no2")).value);
  });

  it("NI-7 densely planted: no reading; but a small colony, so triple stock later shows", () => {
    // Plants over half the plan area, with an uptake of 0.43 g N/m²/d, the lower value of Graber & Junge (2009).
    const planM2 = 1.5 * Math.cbrt(0.078) ** 2;
    const planted: TankOptions = { ...fishIn, plants: 0.43 * 0.5 * planM2, days: 75 };
    const more = group(0.8, { id: "more", count: 12, massG: 3, arrivesDay: 60 });
    const calm = finished(keepTank({ ...planted, days: 60, events: waterChanges(planted, 60, 0.3, 2) }));
    const loaded = finished(
      keepTank({ ...planted, groups: [...fishIn.groups!, more], events: waterChanges(planted, 75, 0.3, 2) }),
    );
    const bare = finished(keepTank({ ...fishIn, events: waterChanges(fishIn, 60, 0.3, 2) }));
    const stock = (run: Run) =>
      run.states.at(-1)![run.aquarium.layout.filmIndex(0, "aob")] + run.states.at(-1)![run.aquarium.layout.filmIndex(0, "sao")];
    const quiet = Math.max(peak(seen(calm, "tan")).value / asN.NH3, peak(seen(calm, "no2")).value / asN.NO2);
    const spike = peak(seen(loaded, "tan"), 60).value / asN.NH3;
    tell("NI-7", { quiet, spike, colonyShare: stock(calm) / stock(bare) });
    expect(quiet).toBeLessThan(0.25);
    expect(stock(calm)).toBeLessThan(0.5 * stock(bare));
    expect(spike).toBeGreaterThan(0.2);
    expect(spike).toBeLessThan(2);
  });

  it("NI-8 marine dry rock: slower than fresh water, and ammonia is the harmful substance: 8 % of it un-ionised", () => {
    const marine: TankOptions = {
      litres: 300,
      salt: 35,
      temperatureC: 25,
      ph: 8.2,
      tan: 2 * asN.NH3,
      days: 75,
      // Buffered, because otherwise alkalinity runs out on day 50 and nitrite stays constant.
      events: [...dosing(2, 75, "when ammonia cleared"), ...bufferedEvery(5, 75)],
      otherSurfaceM2: 6,
    };
    const run = finished(keepTank(marine));
    const freshRun = finished(keepTank({ ...marine, salt: 0, ph: 7.8, co2Share: "holds the pH" }));
    // Marine animals tolerate nitrite (no LC50 under 100 mg/L in thirteen species), so the final test requires only the
    // ammonia to be cleared.
    const ammoniaAlone = { ...NOTHING_ON_A_KIT, no2GPerM3: Number.POSITIVE_INFINITY };
    const [ready, fresh] = [readyDay(run, 2, ammoniaAlone), readyDay(freshRun, 2, ammoniaAlone)];
    const [withNitrite, freshWithNitrite] = [readyDay(run), readyDay(freshRun)];
    const nitriteDays = daysAbove(seen(run, "no2"), KIT_STEP.no2);
    const share = unionisedFraction(ammoniumPka(25, 35), 8.2);
    tell("NI-8", { ready, fresh, withNitrite, freshWithNitrite, nitriteDays, unionisedPercent: 100 * share });
    expect(ready).toBeGreaterThan(1.4 * fresh);
    expect(withNitrite).toBeGreaterThan(1.4 * freshWithNitrite);
    expect(withNitrite).toBeGreaterThan(34);
    expect(withNitrite).toBeLessThan(57);
    expect(nitriteDays).toBeGreaterThan(21);
    expect(100 * share).toBeGreaterThan(6);
    expect(100 * share).toBeLessThan(10);
  });
});
