// Coefficients of a tank's cells by hand: gas, falling water, settling, pads, seeds and meals. Sources are named beside each number.
import { describe, expect, it } from "vitest";
import { stirredK600MPerDay, surfaceVelocityMPerDay } from "../../../models/gas/surface-exchange.ts";
import { NOTHING_ON_A_KIT } from "../../../models/nitrogen/analysis/capacity.ts";
import type { ManagementEvent } from "../../../models/nitrogen/events/all.ts";
import { blindedShareAt, INERT_PER_FOOD, loadAtBlinded, mudDepthM, padHoldsG } from "../../../models/nitrogen/reactor/solids.ts";
import type { Run } from "../../../models/nitrogen/simulation/simulation.ts";
import { inoculatedStock, settledLoad } from "../../../models/nitrogen/tank/biofilm-stock.ts";
import { coefficients } from "../../../models/nitrogen/tank/coefficients.ts";
import { initialOperatingState } from "../../../models/nitrogen/tank/operating-state.ts";
import type { Prefilter } from "../../../models/rig.ts";
import { floodedBedCoefficientMPerS } from "../../../models/tower/mass-transfer.ts";
import { towerAirExchangeM3PerS } from "../../../models/tower/ventilation.ts";
import { diffusivityM2PerS } from "../../../models/water/diffusivity.ts";
import { airPressurePa } from "../../../models/water/pressure.ts";
import { withClosedFilter } from "../outage/rest.ts";
import { asN, dosing, group, keepTank, type TankOptions, tank, tap } from "./cases.ts";

const at = (model: ReturnType<typeof tank>) => coefficients(model, initialOperatingState(model));
const [DISPLAY, TOWER, SUMP, CLOSED] = [0, 1, 2, 3];

describe("air", () => {
  const model = tank({ litres: 180, mediaLitres: 16, co2Share: 7e-4 });
  const { gas, cells } = at(model);

  it("of a room holds 272 g/m3 of oxygen and 0.0284 mol/m3 of carbon dioxide at 700 ppm, 25 °C and 50 m above the sea (ideal gas, 0.2095 of dry air)", () => {
    const molPerM3 = 100_725 / (8.314 * 298.15);
    expect(gas[0].roomO2GPerM3 / (0.2095 * 31.998 * molPerM3)).toBeCloseTo(1, 3);
    expect(gas[0].roomCo2MolPerM3 / (7e-4 * molPerM3)).toBeCloseTo(1, 3);
  });

  it("in a tower fills its voids and 50 mm over the media (modelling assumption)", () => {
    expect(gas[0].volumeM3).toBeCloseTo(0.016 * 0.92 + (0.016 / 0.3) * 0.05, 9);
  });

  it("takes ammonia from an open surface at 0.09 m/d: Henry's 7e-4 times the 1.5e-3 m/s of vapour from a surface that loses 2 mm of water a day", () => {
    // By hand: 2 mm a day are 2000 g/m2/d; the room's air of 50 % at 25 °C lacks 11.5 g/m3, so 2000 / 86400 / 11.5 = 2.0e-3 m/s for water vapour. Ammonia
    // diffuses as fast in air, and is held to three quarters of it.
    const { heightM, lengthM, widthM } = model.rig.displays[0];
    expect(heightM).toBeGreaterThan(0);
    const velocity = (cells[DISPLAY].nh3TransferPerDay * cells[DISPLAY].volumeM3) / (lengthM * widthM);
    expect(velocity).toBeCloseTo(7e-4 * 1.5e-3 * 86_400, 4);
  });
});

describe("the air of a tower", () => {
  it("is drawn through its media and 100 mm of casing above them (modelling assumption)", () => {
    const model = tank({ litres: 180, mediaLitres: 16, tower: { lid: "vented" } });
    const [tower] = model.rig.towers;
    const room = { temperatureC: 21, relativeHumidity: 0.5, pressurePa: airPressurePa(50) };
    const air = { planAreaM2: tower.lengthM * tower.widthM, heightM: 0.3 + 0.1, lid: "vented" as const, forcedM3PerS: 0 };
    const [gas] = at(model).gas;
    expect((gas.exchangePerDay * gas.volumeM3) / (towerAirExchangeM3PerS(air, 25, room) * 86_400)).toBeCloseTo(1, 6);
  });
});

describe("solids", () => {
  const captured = (prefilter: Partial<Prefilter> | null, blinded = 0) => {
    const plain = tank({ litres: 180 });
    const [tower] = plain.rig.towers;
    const model = tank({ litres: 180, tower: { prefilter: prefilter && { ...tower.prefilter!, ...prefilter } } });
    return coefficients(model, { ...initialOperatingState(model), blinded: [blinded] }).cells[TOWER].captureShare;
  };

  it("a pad keeps 0.3, 0.5 or 0.7 of the waste that passes, by its grade, media alone 0.05, a closed filter 0.5 (modelling assumptions)", () => {
    expect((["coarse", "medium", "fine"] as const).map((grade) => captured({ grade }))).toEqual([0.3, 0.5, 0.7]);
    expect(captured(null)).toBe(0.05);
    // What spills onto the media has gone past the pad.
    expect(captured({ grade: "fine", spillsTo: "media" }, 0.4)).toBeCloseTo(0.42, 12);
    expect(at(withClosedFilter(tank({ litres: 180 }))).cells[CLOSED].captureShare).toBe(0.5);
  });

  it("settle at 90 m/d in a settling chamber, at 5 in others and at 1 in the display (Timmons & Ebeling, from memory; modelling assumptions)", () => {
    const { cells } = at(tank({ litres: 180 }));
    const velocity = (c: number, surfaceM2: number) => (cells[c].settlingPerDay * cells[c].volumeM3) / surfaceM2;
    const side = Math.cbrt(0.78 * 0.18);
    expect(velocity(DISPLAY, 1.5 * side * side)).toBeCloseTo(1, 9);
    expect(velocity(SUMP, 0.18)).toBeCloseTo(5, 9);
  });

  it("a tenth of the water goes past a pad of a square metre that holds 400, 250 or 120 g by its grade; hardly any at half of it, two thirds at twice it", () => {
    const holds = (["coarse", "medium", "fine"] as const).map((grade) => padHoldsG({ grade, areaM2: 1 }));
    expect(holds).toEqual([400, 250, 120]);
    expect(blindedShareAt(1)).toBeCloseTo(0.1, 12);
    expect(blindedShareAt(0.5)).toBeLessThan(0.01);
    expect(blindedShareAt(2)).toBeCloseTo(0.64, 2);
    for (const share of [0.03, 0.4, 0.9]) expect(blindedShareAt(loadAtBlinded(share))).toBeCloseTo(share, 12);
  });

  it("sludge of 5 % dry matter: 100 g on 0.2 m2 lie 10 mm deep (Sharrer et al. 2009: 5 to 22 %)", () => {
    expect(mudDepthM(100, 0.2)).toBeCloseTo(0.01, 12);
  });

  it("a gram of dry feed leaves 0.08 g of ash and fibre, as its label says: 6 to 12 % ash and fibre (common labels of fish feed)", () => {
    expect(INERT_PER_FOOD).toBeGreaterThan(0.07);
    expect(INERT_PER_FOOD).toBeLessThan(0.09);
  });
});

describe("what falls into a chamber", () => {
  it("brings the oxygen of a fall of 100 mm: a deficit ratio of 1 + 0.38 x 1.8 x 0.1 x 0.989 x (1 + 0.046 T) for clean water (Gameson 1957)", () => {
    const model = tank({ litres: 180, turnover: 5 });
    const ratio = 1 + 0.38 * 1.8 * 0.1 * 0.989 * (1 + 0.046 * 25);
    const flow = 5 * 0.18 * 24;
    const { o2TransferPerDay, volumeM3 } = at(model).cells[SUMP];
    const byHand = (flow * (1 - 1 / ratio)) / volumeM3;
    const surface = (0.18 / volumeM3) * surfaceVelocityMPerDay("oxygen", 25, 0, stirredK600MPerDay(5));
    expect((o2TransferPerDay - surface) / byHand).toBeGreaterThan(0.98);
    expect((o2TransferPerDay - surface) / byHand).toBeLessThan(1.02);
  });
});

describe("seeds and loads", () => {
  it("a tank without food is settled on 2 mg/L as NH3 a day, 1.645 g N/m3; one with 5 g of food of 45 % protein on 0.36 g N (common practice; 16 % of protein)", () => {
    const empty = settledLoad(tank({}).management, 0.2);
    expect(empty.foodGN).toBeCloseTo((2 / 1.2159) * 0.2, 9);
    expect(settledLoad(tank({ groups: [group(5)] }).management, 0.2).foodGN).toBeCloseTo(5 * 0.45 * 0.16, 9);
  });

  it("stray cells: a tenth of the ammonia oxidisers are slow beside the fast, half of the nitrite oxidisers; from 2 % on the mix of the filter they come from (modelling assumptions; Hovanec et al. 1998)", () => {
    const model = tank({});
    const mature = model.layout.wiring.films.map(() => ({ aob: 0.2, sao: 0.8, nob: 0.3, sno: 0.1, het: 2 }));
    const [stray] = inoculatedStock(model, mature, 0.01, "everywhere");
    expect(stray.sao / stray.aob).toBeCloseTo(0.1, 12);
    expect(stray.sno / stray.nob).toBeCloseTo(1, 12);
    expect(stray.aob).toBeCloseTo(0.01, 12);
    const [moved] = inoculatedStock(model, mature, 0.12, "everywhere");
    expect(moved.sao).toBeCloseTo(0.02 * 0.1 + 0.1 * 0.8, 12);
    expect(stray.het).toBeCloseTo(5e-3, 12);
  });

  it("a kit shows nothing under 0.25 mg/L as NH3 and as NO2: 0.206 and 0.0761 g N/m3 (molar masses)", () => {
    expect(NOTHING_ON_A_KIT.tanGPerM3).toBeCloseTo((0.25 * 14.007) / 17.031, 4);
    expect(NOTHING_ON_A_KIT.no2GPerM3).toBeCloseTo((0.25 * 14.007) / 46.005, 4);
  });
});

describe("films and animals", () => {
  it("over glass and rock lies the layer of a flat plate of 0.3 m in water of 20 mm/s, L / (0.664 Re^(1/2) Sc^(1/3)), and beside it one of 1 mm: 0.58 mm at 25 °C (Pohlhausen 1921; the rest are modelling assumptions)", () => {
    const films = tank({ litres: 180 }).layout.wiring.films;
    const { boundaryM } = films.find(({ id }) => id.startsWith("display"))!;
    const [nu, d] = [8.93e-7, diffusivityM2PerS("ammonium", 25, 0)];
    const plate = 0.3 / (0.664 * Math.sqrt((0.02 * 0.3) / nu) * Math.cbrt(nu / d));
    const byHand = 1 / (1 / plate + 1 / 1e-3);
    expect(boundaryM / byHand).toBeGreaterThan(0.98);
    expect(boundaryM / byHand).toBeLessThan(1.02);
  });

  it("through a closed filter of 6 L the water goes over a plan of 0.033 m2, that of a cube (modelling assumption)", () => {
    const model = withClosedFilter(tank({ litres: 180 }));
    const { boundaryM } = model.layout.wiring.films[model.filmOf.closed[0]];
    const d = diffusivityM2PerS("ammonium", 25, 0);
    const coefficient = floodedBedCoefficientMPerS(1.2e-4 / 0.03302, 0.0013, 0.97, d);
    expect(boundaryM / (d / coefficient)).toBeCloseTo(1, 3);
  });

  it("of a dead animal 0.3 of the nitrogen becomes ammonia at once, the rest waste (modelling assumption)", () => {
    const dead = at(tank({ groups: [group(2)] })).guts[1];
    expect([dead.tanShare, dead.wasteShare]).toEqual([0.3, 0.7]);
  });

  it("the film of slime is 0.1 mm and its water 0.3 mm (modelling assumptions)", () => {
    const plain = tank({ litres: 180 });
    const [film] = plain.layout.wiring.films;
    expect([film.filmM, film.waterM]).toEqual([1e-4, 3e-4]);
  });
});

describe("a run-in that has passed its test", () => {
  it("is kept going with half the dose every other day (common practice, no published source)", () => {
    const routine = dosing(2, 14, "when ammonia cleared").map((event) => ({ ...event, routine: true }) as ManagementEvent);
    const proof = { times: 2, withinDays: 1, tan: 0.25 * asN.NH3, no2: 0.25 * asN.NO2 };
    const run = keepTank({ days: 14, seed: 0.6, tan: 2 * asN.NH3, events: routine, run: { proof } });
    expect(run.provenDay).toBeLessThan(6);
    const kept = run.marks.filter(({ kind, day }) => kind === "dose" && day > run.provenDay! + 0.1);
    expect(kept.length).toBeGreaterThan(2);
    for (const [n, mark] of kept.entries()) {
      expect(mark.label).toBe("ammonia, half the usual dose");
      if (n > 0) expect(mark.day - kept[n - 1].day).toBeCloseTo(2, 6);
    }
    const after = run.days.findIndex((day) => day > kept[1].day);
    expect(run.states[after][run.aquarium.layout.cellIndex(0, "tan")]).toBeLessThan(1 * asN.NH3);
  });
});

describe("what an event leaves", () => {
  const fed: TankOptions = { litres: 180, days: 6, seed: 1, groups: [group(4)], run: { outputsPerDay: 96 } };
  const changed = (event: ManagementEvent, more: TankOptions = {}) => keepTank({ ...fed, ...more, events: [event] });
  /** Ratio of a number of a run just after day 5.51 to just before; meals are at 9 and 18 h. */
  const ratio = (run: Run, of: (n: number) => number): number => {
    const after = run.days.findIndex((day) => day > 5.51);
    return of(after) / of(after - 1);
  };
  const event = { day: 5.51, label: "" };

  it("a new pad keeps a tenth of the old one's solids, siphoning a fifth of the sediment (modelling assumptions)", () => {
    const pad = changed({ ...event, kind: "change pad" });
    expect(ratio(pad, (n) => pad.solidsInventory[n].padDryG[0])).toBeGreaterThan(0.09);
    expect(ratio(pad, (n) => pad.solidsInventory[n].padDryG[0])).toBeLessThan(0.115);
    const siphoned = changed({ ...event, kind: "siphon sediment" });
    const xd = (n: number) => siphoned.states[n][siphoned.aquarium.layout.cellIndex(SUMP, "xd")];
    expect(ratio(siphoned, xd)).toBeGreaterThan(0.19);
    expect(ratio(siphoned, xd)).toBeLessThan(0.22);
  });

  it("untreated chloramine of 1 g Cl2/m3 in the mixed water leaves half of the nitrifiers (modelling assumption)", () => {
    const run = changed({
      ...event,
      kind: "water change",
      share: 0.5,
      tap: tap(fed, { chloramineGPerM3: 2, treated: false }),
    });
    for (const guild of ["aob", "sao", "nob", "sno"] as const)
      expect(ratio(run, (n) => run.states[n][run.aquarium.layout.filmIndex(0, guild)])).toBeCloseTo(0.5, 1);
    expect(ratio(run, (n) => run.states[n][run.aquarium.layout.filmIndex(0, "sno")])).toBeGreaterThan(0.48);
  });

  it("food beside the plan is flake of 42 % protein: 1 g brings 0.067 g N (16 % of protein)", () => {
    const extra = { kind: "feed" as const, group: null, factor: 1, extraGPerDay: 10, day: 2, label: "" };
    const nitrogen = (events: ManagementEvent[]) => keepTank({ ...fed, events }).ledger.in.get("food")!;
    const perGram = (nitrogen([extra]) - nitrogen([])) / (10 * 4);
    expect(perGram).toBeCloseTo(0.42 * 0.16, 4);
  });
});
