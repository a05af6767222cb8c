import seedrandom from "seedrandom";
import { describe, expect, it } from "vitest";
import { cellTransfer, cellVolumes, planCells } from "../../../models/coupling/exchange.ts";
import { coolingCurveC, type HeatNetwork } from "../../../models/heat/balance.ts";
import { cutAndRestart } from "../../../models/hydraulics/outage/outage-simulation.ts";
import { mixedTemperaturesC } from "../../../models/nitrogen/operation/outage-heat.ts";
import { runSimulation } from "../../../models/nitrogen/simulation/simulation.ts";
import { powerBackIsNotFlowBack } from "../../../models/outage/aftermath.ts";
import { BLANKET, restingHeatNetwork } from "../../../models/outage/resting-heat.ts";
import {
  cutTemperatures,
  HEAT_LOSS_FACTOR,
  limitsFor,
  outageHeat,
  stagnantHeaterWarning,
  stagnantHeatingKPerH,
  temperatureClock,
  temperatureCurve,
} from "../../../models/outage/temperature.ts";
import { densityKgPerM3, specificHeatJPerKgK } from "../../../models/water/density.ts";
import { input, referenceRows } from "../../data/reference-rows.ts";
import { towerOverSump } from "../hydraulics/rigs.ts";
import { tank } from "../nitrogen/cases.ts";
import { outageOf, plainCut, powerCut, restOfTank, settled, tankWithFish } from "./rest.ts";

const single = (uaWPerK: number, heatCapacityJPerK: number, roomC: number): HeatNetwork => ({
  cells: [{ heatCapacityJPerK, uaWPerK, evaporativeWPerPa: 0, salinityGPerKg: 0, heater: null, constantW: 0 }],
  flows: [],
  roomTemperatureC: roomC,
  roomVapourPa: 0,
});

describe("temperature during an outage", () => {
  it("agrees with every reference row on cooling after an outage (heat.csv table H-F: Newton cooling, analytic)", () => {
    const rows = referenceRows("heat.csv").filter((row) => row.quantity === "temperature after power cut");
    expect(rows.length).toBeGreaterThan(0);
    for (const row of rows) {
      const capacity = (input(row, "V_L") / 1000) * 998 * 4180;
      const network = single(input(row, "UA_W_K"), capacity, input(row, "Ta_C"));
      const after = temperatureCurve(network, [input(row, "T0_C")], input(row, "hours")).at(input(row, "hours"))[0];
      expect(Math.abs(after - row.expected), row.id).toBeLessThanOrEqual(row.tolerance);
    }
  });

  it("follows the closed form at and between the samples (Newton's law of cooling)", () => {
    const curve = temperatureCurve(single(6.5, 1.043e6, 20), [26], 48);
    for (const h of [0, 0.25, 3, 7.6, 20.1, 48])
      expect(curve.at(h)[0]).toBeCloseTo(coolingCurveC(26, 20, 6.5, 1.043e6, 3600 * h), 3);
    expect(curve.at(1000)[0]).toBe(curve.samples.at(-1)?.[0]);
  });

  it("stays between room, wet-bulb and starting temperature; evaporation cools an open tower in a dry room below the air temperature", () => {
    const rest = restOfTank(tankWithFish(400, 0.6, 8, 30, { temperatureC: 24, mediaLitres: 40 }));
    const open = cutTemperatures(rest, { ...plainCut, towerOpen: true, room: { temperatureC: 23, relativeHumidity: 0.3 } }, 48);
    const [display, tower, sump] = open.at(48);
    // Psychrometric tables: the wet-bulb temperature of air of 23 °C at 30 % is 13.0 °C.
    for (const t of [display, tower, sump]) {
      expect(t).toBeGreaterThan(13);
      expect(t).toBeLessThan(24);
    }
    expect(tower).toBeLessThan(22);
    const saturated = cutTemperatures(rest, { ...plainCut, room: { temperatureC: 20, relativeHumidity: 1 } }, 1000);
    for (const t of saturated.at(1000)) expect(t).toBeCloseTo(20, 1);
  });

  it("a wrapped tank cools more slowly, and so does a covered one; a factor of 1.4 on losses gives the range", () => {
    const rest = restOfTank(tank({ litres: 200 }));
    const inTenHours = (network: HeatNetwork) => temperatureCurve(network, [25, 25, 25], 10).at(10)[0];
    const cold = { ...plainCut, room: { temperatureC: 15, relativeHumidity: 0.5 } };
    const bare = inTenHours(restingHeatNetwork(rest, cold));
    const display = { ...rest.rig.displays[0], lid: "covered" as const };
    expect(inTenHours(restingHeatNetwork(rest, cold, BLANKET))).toBeGreaterThan(bare);
    expect(inTenHours(restingHeatNetwork({ ...rest, rig: { ...rest.rig, displays: [display] } }, cold))).toBeGreaterThan(bare);
    expect(inTenHours(restingHeatNetwork(rest, cold, undefined, HEAT_LOSS_FACTOR))).toBeLessThan(bare);
  });

  it("HY-10, temperature: with the power back and the pump seized, the heater keeps the sump warm and the display cools towards the room (common practice, no published source)", () => {
    const rest = restOfTank(tankWithFish(300, 0.5, 5, 20));
    const cold = { ...plainCut, hours: 2, room: { temperatureC: 18, relativeHumidity: 0.5 } };
    const endOfCut = cutTemperatures(rest, cold, 2).at(2);
    const after = cutTemperatures(rest, powerBackIsNotFlowBack(cold, 8), 8, endOfCut).at(8);
    expect(after[2]).toBeGreaterThan(24.5);
    expect(after[0]).toBeLessThan(endOfCut[0] - 1);
    expect(after[0]).toBeGreaterThan(15);
    expect(JSON.stringify(stagnantHeaterWarning(rest, powerBackIsNotFlowBack(cold, 8)))).toMatch(/does not flow/);
    expect(stagnantHeaterWarning(rest, cold)).toBeNull();
  });

  it("300 W in 60 L of stagnant water heat by more than 4 K per hour (practice estimate; energy balance)", () => {
    const rate = stagnantHeatingKPerH(300, 0.06, 25, 0);
    expect(rate).toBeCloseTo((300 * 3600) / (60 * 0.997 * 4180), 1);
    expect(rate).toBeGreaterThan(4);
  });

  it("heat is conserved: the two baffle flows between chambers are equal and opposite at equal temperatures", () => {
    const base = tank({ litres: 300 });
    const chambers = [
      { id: "a", role: "inlet" as const, lengthM: 0.3, displacements: [], submergedMedia: null, sock: null },
      { id: "b", role: "return" as const, lengthM: 0.3, displacements: [], submergedMedia: null, sock: null },
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

  it("the limits of the clock keep a distance from the temperature of acclimatisation; the clock is null in a warm room and earlier in a colder one", () => {
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
    // A hot room of 36 °C turns it too.
    expect(at(36).amberH).not.toBeNull();
  });

  it("the heat capacity is that of the water present (EOS-80 density, Millero et al. 1973 specific heat)", () => {
    const rest = restOfTank(tank({ litres: 300 }));
    const { cells } = restingHeatNetwork(rest, plainCut);
    expect(cells[0].heatCapacityJPerK).toBeCloseTo(rest.volumesM3[0] * densityKgPerM3(25, 0) * specificHeatJPerKgK(25, 0), 3);
  });
});

describe("heat transfer with the water", () => {
  it("moving water conserves heat to rounding, whatever the shares, including the water on the floor (energy balance)", () => {
    const random = seedrandom("heat");
    for (let n = 0; n < 200; n++) {
      const size = 2 + Math.floor(5 * random());
      const share = Array.from({ length: size + 1 }, () => Array.from({ length: size }, random));
      for (let from = 0; from < size; from++) {
        const sum = share.reduce((total, row) => total + row[from], 0);
        for (const row of share) row[from] /= sum;
      }
      const volumes = Array.from({ length: size }, () => 0.001 + random());
      const before = Array.from({ length: size }, () => 10 + 20 * random());
      const inCells = share.slice(0, size).map((row) => row.reduce((sum, s, from) => sum + s * volumes[from], 0));
      const after = mixedTemperaturesC(share, volumes, inCells, before);
      const lost = share[size].reduce((sum, s, from) => sum + s * volumes[from] * before[from], 0);
      const heat = (t: readonly number[], v: readonly number[]) => t.reduce((sum, c, i) => sum + c * v[i], 0);
      const whole = heat(before, volumes);
      expect(Math.abs(heat(after, inCells) + lost - whole) / whole).toBeLessThan(1e-12);
    }
  });

  it("twenty stops and restarts of a rig with a tower over its sump conserve heat to 1e-8", () => {
    const rig = towerOverSump();
    const story = cutAndRestart(rig);
    if (!story.restart) throw new Error("the pump starts again");
    const display = Object.fromEntries(rig.return.nozzles.map((nozzle) => [nozzle.id, nozzle.display]));
    const plan = planCells(story.running, display, []);
    const steps = [story.cut, story.restart].map((transient) => ({
      share: cellTransfer(plan, transient),
      from: cellVolumes(plan, transient.startVolumesM3),
      to: cellVolumes(plan, transient.endVolumesM3),
    }));
    let t = plan.cells.map((_, c) => 15 + 3 * c);
    for (let n = 0; n < 20; n++)
      for (const { share, from, to } of steps) {
        const before = t.reduce((sum, c, i) => sum + c * from[i], 0);
        t = mixedTemperaturesC(share, from, to, t);
        const after = t.reduce((sum, c, i) => sum + c * to[i], 0);
        expect(Math.abs(after - before) / before).toBeLessThan(1e-8);
      }
    // All water has mixed, so the coldest and the warmest temperatures are close.
    expect(Math.max(...t) - Math.min(...t)).toBeLessThan(3 * plan.cells.length);
  });

  it("the heater warms the tank no faster than its power allows, and up to the set-point (energy balance: power over heat capacity)", () => {
    const aquarium = tankWithFish(300, 0.5, 5, 20, { temperatureC: 25 });
    const heaterW = 300;
    const rest = { ...restOfTank(aquarium), management: { ...aquarium.management, heaterW } };
    const curve = outageHeat(rest, aquarium.exchange).warming([19, 18, 21], 25);
    const whole = 0.3 * densityKgPerM3(20, 0) * specificHeatJPerKgK(20, 0);
    const mean = (h: number) => curve.at(h).reduce((sum, c, i) => sum + c * (aquarium.exchange.volumesM3[i] / 0.3), 0);
    const fastest = (3600 * heaterW) / whole;
    expect(mean(1) - mean(0)).toBeLessThan(1.001 * fastest);
    expect(mean(1) - mean(0)).toBeGreaterThan(0.3 * fastest);
    // The water has circulated within minutes: one temperature everywhere.
    expect(Math.max(...curve.at(1)) - Math.min(...curve.at(1))).toBeLessThan(0.6);
    expect(mean(48)).toBeGreaterThan(24.5);
    expect(mean(48)).toBeLessThanOrEqual(25.3);
  });

  it("after a cold outage the tank is cold for hours and then back at the set-point; a second outage in that time starts from the actual temperature", () => {
    const cuts = [powerCut(1, { hours: 12, room: { temperatureC: 12, relativeHumidity: 0.5 } }), powerCut(1.55, { hours: 6 })];
    const aquarium = tankWithFish(200, 0.2, 2, 20, { temperatureC: 25, days: 5, events: cuts });
    const run = runSimulation(aquarium, { outputsPerDay: 24, relative: 1e-3, begin: settled(aquarium), ...outageOf(aquarium) });
    const at = (day: number) => run.operating[run.days.findIndex((d) => d >= day - 1e-9)].temperatureC[0];
    expect(at(1.49)).toBeLessThan(21);
    expect(at(1.54)).toBeLessThan(24);
    expect(run.cuts[1].temperatureC[0][0]).toBeLessThan(24);
    expect(at(4.9)).toBe(25);
  });
});
