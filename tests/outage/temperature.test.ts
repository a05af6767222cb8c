import { describe, expect, it } from "vitest";
import { coolingCurveC, type HeatNetwork } from "../../models/heat/balance.ts";
import { powerBackIsNotFlowBack } from "../../models/outage/aftermath.ts";
import { BLANKET, restingHeatNetwork } from "../../models/outage/restingHeat.ts";
import {
  cutTemperatures,
  HEAT_LOSS_FACTOR,
  limitsFor,
  stagnantHeaterWarning,
  stagnantHeatingKPerH,
  temperatureClock,
  temperatureCurve,
} from "../../models/outage/temperature.ts";
import { densityKgPerM3, specificHeatJPerKgK } from "../../models/water/density.ts";
import { input, referenceRows } from "../data/referenceRows.ts";
import { tank } from "../nitrogen/cases.ts";
import { plainCut, restOfTank, tankWithFish } from "./rest.ts";

const single = (uaWPerK: number, heatCapacityJPerK: number, roomC: number): HeatNetwork => ({
  cells: [{ heatCapacityJPerK, uaWPerK, evaporativeWPerPa: 0, salinityGPerKg: 0, heater: null, constantW: 0 }],
  flows: [],
  roomTemperatureC: roomC,
  roomVapourPa: 0,
});

describe("temperature through a cut", () => {
  it("reproduces every reference row on cooling after a cut (heat.csv table H-F: Newton cooling, analytic)", () => {
    const rows = referenceRows("heat.csv").filter((row) => row.quantity === "temperature after power cut");
    expect(rows.length).toBeGreaterThan(0);
    for (const row of rows) {
      const capacity = (input(row, "V_L") / 1000) * 998 * 4180;
      const network = single(input(row, "UA_W_K"), capacity, input(row, "Ta_C"));
      const after = temperatureCurve(network, [input(row, "T0_C")], input(row, "hours")).at(input(row, "hours"))[0];
      expect(Math.abs(after - row.expected), row.id).toBeLessThanOrEqual(row.tolerance);
    }
  });

  it("follows the closed form at every sample and between (Newton's law of cooling)", () => {
    const curve = temperatureCurve(single(6.5, 1.043e6, 20), [26], 48);
    for (const h of [0, 0.25, 3, 7.6, 20.1, 48])
      expect(curve.at(h)[0]).toBeCloseTo(coolingCurveC(26, 20, 6.5, 1.043e6, 3600 * h), 3);
    expect(curve.at(1000)[0]).toBe(curve.samples.at(-1)?.[0]);
  });

  it("never leaves the span of room, wet bulb and start, and an open, dry room cools the tower below the air (evaporation)", () => {
    const rest = restOfTank(tankWithFish(400, 0.6, 8, 30, { temperatureC: 24, mediaLitres: 40 }));
    const open = cutTemperatures(rest, { ...plainCut, towerOpen: true, room: { temperatureC: 23, relativeHumidity: 0.3 } }, 48);
    const [display, tower, sump] = open.at(48);
    // Psychrometric tables: air of 23 °C at 30 % has its wet bulb at 13.0 °C.
    for (const t of [display, tower, sump]) {
      expect(t).toBeGreaterThan(13);
      expect(t).toBeLessThan(24);
    }
    expect(tower).toBeLessThan(22);
    const saturated = cutTemperatures(rest, { ...plainCut, room: { temperatureC: 20, relativeHumidity: 1 } }, 1000);
    for (const t of saturated.at(1000)) expect(t).toBeCloseTo(20, 1);
  });

  it("a wrapped tank cools more slowly, a covered one too; a factor 1.4 on losses spans the range", () => {
    const rest = restOfTank(tank({ litres: 200 }));
    const inTenHours = (network: HeatNetwork) => temperatureCurve(network, [25, 25, 25], 10).at(10)[0];
    const cold = { ...plainCut, room: { temperatureC: 15, relativeHumidity: 0.5 } };
    const bare = inTenHours(restingHeatNetwork(rest, cold));
    const display = { ...rest.rig.displays[0], lid: "covered" as const };
    expect(inTenHours(restingHeatNetwork(rest, cold, BLANKET))).toBeGreaterThan(bare);
    expect(inTenHours(restingHeatNetwork({ ...rest, rig: { ...rest.rig, displays: [display] } }, cold))).toBeGreaterThan(bare);
    expect(inTenHours(restingHeatNetwork(rest, cold, undefined, HEAT_LOSS_FACTOR))).toBeLessThan(bare);
  });

  it("HY-10, warmth: power back, pump seized: heater keeps the sump warm, the display cools toward the room (common practice, no published source)", () => {
    const rest = restOfTank(tankWithFish(300, 0.5, 5, 20));
    const cold = { ...plainCut, hours: 2, room: { temperatureC: 18, relativeHumidity: 0.5 } };
    const endOfCut = cutTemperatures(rest, cold, 2).at(2);
    const after = cutTemperatures(rest, powerBackIsNotFlowBack(cold, 8), 8, endOfCut).at(8);
    expect(after[2]).toBeGreaterThan(24.5);
    expect(after[0]).toBeLessThan(endOfCut[0] - 1);
    expect(after[0]).toBeGreaterThan(15);
    expect(stagnantHeaterWarning(rest, powerBackIsNotFlowBack(cold, 8))).toMatch(/do not flow/);
    expect(stagnantHeaterWarning(rest, cold)).toBeNull();
  });

  it("300 W in 60 L that do not flow: over 4 K an hour (practice estimate; energy balance)", () => {
    const rate = stagnantHeatingKPerH(300, 0.06, 25, 0);
    expect(rate).toBeCloseTo((300 * 3600) / (60 * 0.997 * 4180), 1);
    expect(rate).toBeGreaterThan(4);
  });

  it("heat is only moved: the two baffle flows between chambers are equal and opposite at equal temperatures", () => {
    const base = tank({ litres: 300 });
    const chambers = [
      { id: "a", role: "inlet" as const, lengthM: 0.3, displacements: [], submergedMedia: null },
      { id: "b", role: "return" as const, lengthM: 0.3, displacements: [], submergedMedia: null },
    ];
    const rig = { ...base.rig, sump: { ...base.rig.sump, chambers, baffles: [{ kind: "over" as const, topM: 0.25, gapM: 0 }] } };
    const cells = [
      base.cells[0],
      base.cells[1],
      { id: "a", name: "a", kind: "chamber" as const, partOf: "a" },
      { id: "b", name: "b", kind: "chamber" as const, partOf: "b" },
    ];
    const rest = {
      ...restOfTank(base),
      rig: { ...rig, towers: [{ ...rig.towers[0], drainsTo: "a" }] },
      cells,
      volumesM3: [0.23, 5e-4, 0.02, 0.02],
    };
    const { flows } = restingHeatNetwork(rest, plainCut);
    expect(flows.map((f) => [f.from, f.to])).toEqual([
      [2, 3],
      [3, 2],
    ]);
    expect(flows[0].capacityWPerK).toBe(flows[1].capacityWPerK);
    expect(flows[0].capacityWPerK).toBeGreaterThan(0.5);
  });

  it("clock: limits never nearer than what the animals are used to; null in a warm room; earlier in a colder one", () => {
    expect(limitsFor("warm-water fish", 19)).toMatchObject({ amberLowC: 16, redLowC: 14 });
    expect(limitsFor("warm-water fish", 26)).toMatchObject({ amberLowC: 20, redLowC: 18 });
    const rest = restOfTank(tankWithFish(300, 0.5, 5, 20));
    const at = (temperatureC: number) =>
      temperatureClock(rest, { ...plainCut, room: { temperatureC, relativeHumidity: 0.6 } }, ["warm-water fish"]);
    expect(at(25).amberH).toBeNull();
    const [mild, cold] = [at(16).redH, at(8).redH];
    if (!mild || !cold) throw new Error("a cold room must turn the clock red");
    expect(cold[0]).toBeLessThan(mild[0]);
    expect(mild[0]).toBeLessThanOrEqual(mild[1]);
    // A hot room turns it too: 36 °C.
    expect(at(36).amberH).not.toBeNull();
  });

  it("heat capacity is that of the water that is there (EOS-80 density, Millero et al. 1973 specific heat)", () => {
    const rest = restOfTank(tank({ litres: 300 }));
    const { cells } = restingHeatNetwork(rest, plainCut);
    expect(cells[0].heatCapacityJPerK).toBeCloseTo(rest.volumesM3[0] * densityKgPerM3(25, 0) * specificHeatJPerKgK(25, 0), 3);
  });
});
