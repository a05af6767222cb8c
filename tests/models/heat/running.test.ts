// The heat balance of the running system: compared with hand calculations and closed forms, energy conservation, and its effect in a run.
import { describe, expect, it } from "vitest";
import { coolingCurveC, type HeatCell, type HeatNetwork } from "../../../models/heat/balance.ts";
import { airVapourPressurePa } from "../../../models/heat/evaporation.ts";
import { heatStep, holdingW } from "../../../models/heat/step.ts";
import { surfaceUWPerM2K } from "../../../models/heat/walls.ts";
import type { ManagementEvent } from "../../../models/nitrogen/events/all.ts";
import type { Climate } from "../../../models/nitrogen/management.ts";
import { runSimulation } from "../../../models/nitrogen/simulation/simulation.ts";
import { inoculatedStock, matureStock } from "../../../models/nitrogen/tank/biofilm-stock.ts";
import { runningHeatNetwork } from "../../../models/outage/resting-heat.ts";
import { holdingPower, roomAtC, runningHeat } from "../../../models/outage/running-heat.ts";
import { figure, findingOf, resultOf } from "../../scenarios/told.ts";
import { group, type TankOptions, tank, tap } from "../nitrogen/cases.ts";
import { outageOf, restOfTank } from "../outage/rest.ts";

const cell = (more: Partial<HeatCell> = {}): HeatCell => ({
  heatCapacityJPerK: 8e5,
  uaWPerK: 12,
  evaporativeWPerPa: 0,
  salinityGPerKg: 0,
  heater: null,
  constantW: 0,
  ...more,
});
const alone = (more: Partial<HeatCell> = {}): HeatNetwork => ({
  cells: [cell(more)],
  flows: [],
  roomTemperatureC: 15,
  roomVapourPa: 850,
});
const HOUR = 3600;

describe("a step of the heat balance", () => {
  it("follows Newton's law of cooling (closed form)", () => {
    let t: readonly number[] = [25];
    for (let h = 0; h < 24; h++) t = heatStep(alone(), t, null, HOUR).temperatureC;
    expect(t[0] - 15).toBeCloseTo(coolingCurveC(25, 15, 12, 8e5, 24 * HOUR) - 15, 0);
    expect(Math.abs(t[0] / coolingCurveC(25, 15, 12, 8e5, 24 * HOUR) - 1)).toBeLessThan(0.01);
  });

  it("conserves energy: the heat stored in the water equals the input by heater, pump and walls, with any flow between the cells", () => {
    const network: HeatNetwork = {
      cells: [cell({ constantW: 20 }), cell({ heatCapacityJPerK: 2e5, uaWPerK: 5, room: { temperatureC: 2, vapourPa: 500 } })],
      flows: [
        { from: 0, to: 1, capacityWPerK: 900 },
        { from: 1, to: 0, capacityWPerK: 900 },
      ],
      roomTemperatureC: 15,
      roomVapourPa: 850,
    };
    const before = [25, 21];
    const { temperatureC: after, heaterW } = heatStep(network, before, { holds: 0, heats: 1, setpointC: 25, maxW: 150 }, HOUR);
    const stored = 8e5 * (after[0] - before[0]) + 2e5 * (after[1] - before[1]);
    const came = HOUR * (heaterW + 20 + 12 * (15 - after[0]) + 5 * (2 - after[1]));
    expect(heaterW).toBe(150);
    expect(stored / came).toBeCloseTo(1, 10);
  });

  it("holds the set-point within the power of the heater, and not beyond it", () => {
    const thermostat = (maxW: number) => ({ holds: 0, heats: 0, setpointC: 25, maxW });
    // 12 W/K over 10 K: 120 W, by hand.
    const strong = heatStep(alone(), [25], thermostat(200), HOUR);
    expect(strong.temperatureC[0]).toBeCloseTo(25, 10);
    expect(strong.heaterW).toBeCloseTo(120, 8);
    let t: readonly number[] = [25];
    for (let h = 0; h < 1000; h++) t = heatStep(alone(), t, thermostat(60), HOUR).temperatureC;
    expect(t[0]).toBeCloseTo(20, 6);
    // Water warmer than the set-point is not cooled by a thermostat.
    expect(heatStep(alone(), [27], thermostat(200), HOUR).heaterW).toBe(0);
  });
});

describe("a tank of 180 L in its room", () => {
  const climate = { dayC: 15, nightC: 15, ownRooms: {}, lampsW: 0 };
  const o: TankOptions = { climate, mediaLitres: 16 };
  const networkOf = (options: TankOptions) => {
    const aquarium = tank(options);
    return runningHeatNetwork(restOfTank(aquarium), aquarium.exchange);
  };

  it("needs the power of a hand calculation for walls, moving surface and evaporation", () => {
    // Display of 140 L: plan 0.779 x 0.519 m, 0.347 m of water, 10 mm of glass. Walls by EN ISO 6946: sides 1/(1/200 + 0.01 + 0.13) = 6.90,
    // bottom 1/(1/200 + 0.01 + 0.17) = 5.41 W/(m2 K). Surface: 0.0968 W/(m2 Pa) (Carrier's pool equation at 0.1 m/s), dry 66.5 times that (Bowen)
    // and 5.7 W/(m2 K) of radiation. Water 25 °C: 3169 Pa; room 15 °C at 50 %: 853 Pa.
    const [display] = networkOf(o).cells;
    const plan = 0.779 * 0.519;
    const walls = 2 * (0.779 + 0.519) * 0.347 * 6.9 + plan * 5.41;
    const dry = plan * (66.5 * 0.0968 + 5.7);
    const wet = plan * 0.0968 * (3169 - 853);
    const byHand = (walls + dry) * 10 + wet;
    const network = { ...networkOf(o), cells: [{ ...display, room: { temperatureC: 15, vapourPa: 853 } }], flows: [] };
    console.info(`display: ${byHand.toFixed(0)} W by hand, ${holdingW(network, 25).toFixed(0)} W computed`);
    expect(holdingW(network, 25) / byHand).toBeGreaterThan(0.95);
    expect(holdingW(network, 25) / byHand).toBeLessThan(1.05);
  });

  it("needs more power with the sump in a cold cellar, and less with lamps and pump", () => {
    const at = (more: Partial<Climate>) => holdingW(networkOf({ ...o, climate: { ...climate, ...more } }), 25);
    expect(at({ ownRooms: { sump: { dayC: 5, nightC: 5 } } })).toBeGreaterThan(at({}) + 20);
    expect(at({ lampsW: 40 })).toBeCloseTo(at({}) - 40, 6);
  });

  it("a sump in a garage of 10 °C by day and 0 °C at night: the coldest hour takes what 5 K more cost by walls, surface and vapour (by hand)", () => {
    const garage = { ...climate, ownRooms: { sump: { dayC: 10, nightC: 0 } } };
    const aquarium = tank({ ...o, climate: garage });
    const rest = restOfTank(aquarium);
    const { cells } = runningHeatNetwork(rest, aquarium.exchange);
    const outside = cells.filter((_, c) => rest.cells[c].kind !== "display");
    // Half the saturation pressure of 5 and of 0 °C: 436 and 306 Pa.
    const byHand = outside.reduce((sum, cell) => sum + 5 * cell.uaWPerK + (436 - 306) * cell.evaporativeWPerPa, 0);
    const { meanW, coldestW } = holdingPower(rest, aquarium.exchange, 25, garage);
    expect((coldestW - meanW) / byHand).toBeGreaterThan(0.98);
    expect((coldestW - meanW) / byHand).toBeLessThan(1.02);
    const swing = (run: ReturnType<typeof lived>) => {
      const last = between(run.run, run.display, 9, 12);
      return Math.max(...last) - Math.min(...last);
    };
    const mean = { ...climate, ownRooms: { sump: { dayC: 5, nightC: 5 } } };
    expect(swing(lived({ climate: garage }, 0))).toBeGreaterThan(swing(lived({ climate: mean }, 0)) + 0.2);
  });

  it("changed water brings its heat: half of the water at 5 °C cools the tank by half the difference (mixing, by hand), and the heater warms it again", () => {
    const change = (temperatureC: number | null): ManagementEvent => ({
      day: 6.02,
      label: "change",
      kind: "water change",
      share: 0.5,
      tap: { ...tap(o), temperatureC },
    });
    const soon = (run: ReturnType<typeof lived>) => Math.min(...between(run.run, run.display, 6.03, 6.3));
    const cold = lived({}, 600, [change(5)]);
    // 25 °C and 5 °C make 15 °C; the heater adds at most 2.9 K an hour to 180 L, so the mean of the first interval lies a little above.
    expect(soon(cold)).toBeGreaterThan(14.5);
    expect(soon(cold)).toBeLessThan(16.5);
    expect(cold.display.at(-1)!).toBeGreaterThan(24.5);
    expect(soon(lived({}, 600, [change(null)]))).toBeGreaterThan(24.5);
  });

  const lived = (options: TankOptions, heaterW: number, events: ManagementEvent[] = []) => {
    const planned = tank({ days: 12, groups: [group(2)], ...o, ...options, events });
    const aquarium = { ...planned, management: { ...planned.management, heaterW } };
    const rest = { ...restOfTank(aquarium), management: aquarium.management };
    const run = runSimulation(aquarium, {
      outputsPerDay: 24,
      relative: 1e-3,
      begin: inoculatedStock(aquarium, matureStock(aquarium), 1, "everywhere"),
      ...outageOf(aquarium, rest),
      runningHeat: runningHeat(rest, aquarium.exchange),
    });
    expect(run.outcome.status).toBe("finished");
    expect(Math.abs(run.end.total - run.start.total - run.ledger.net) / run.ledger.turnover).toBeLessThan(1e-8);
    return { run, display: run.operating.map(({ temperatureC }) => temperatureC[0]) };
  };
  const between = (run: { days: readonly number[] }, values: readonly number[], from: number, to: number) =>
    values.filter((_, n) => run.days[n] >= from && run.days[n] < to);

  it("without a heater its equilibrium is slightly below the temperature of a damp room, above it if the pump warms the water; it follows part of the daily swing", () => {
    const even = lived({}, 0);
    const network = { ...networkOf(o), roomTemperatureC: 15, roomVapourPa: airVapourPressurePa(15, 0.5) };
    // At equilibrium the balance is zero: the pump's 30 W leave through the walls.
    expect(Math.abs(holdingW(network, even.display.at(-1)!))).toBeLessThan(3);
    const swing = lived({ climate: { ...climate, dayC: 20, nightC: 10 } }, 0);
    const last = between(swing.run, swing.display, 9, 12);
    const seen = Math.max(...last) - Math.min(...last);
    console.info(`at rest ${even.display.at(-1)!.toFixed(2)} °C; swing of the room 10 K, of the water ${seen.toFixed(2)} K`);
    expect(seen).toBeGreaterThan(0.5);
    expect(seen).toBeLessThan(5);
    expect(swing.run.states.at(-1)![0]).not.toBe(even.run.states.at(-1)![0]);
  });

  it("a sufficient heater holds the temperature; one of 25 W does not, and hot weather warms the water while it lasts", () => {
    const strong = lived({}, 2000);
    expect(Math.min(...strong.display)).toBeGreaterThan(24.9);
    expect(Math.max(...strong.display)).toBeLessThan(25.1);
    expect(Math.max(...lived({}, 25).display.slice(-24))).toBeLessThan(19);
    const heat: ManagementEvent = { day: 4, label: "heat", kind: "weather", dayC: 38, nightC: 30, lastsDays: 3 };
    const hot = lived({}, 2000, [heat]);
    expect(Math.max(...between(hot.run, hot.display, 0, 4))).toBeLessThan(25.1);
    expect(Math.max(...between(hot.run, hot.display, 4, 7.2))).toBeGreaterThan(27);
    expect(hot.display.at(-1)!).toBeLessThan(25.3);
  });

  it("after an outage the heater warms the water within its power", () => {
    const cut = { day: 3, label: "cut", kind: "power cut" as const };
    const event = {
      ...cut,
      hours: 10,
      pumpStuckHours: 0,
      everythingOff: true,
      batteryAir: false,
      stirEveryHours: null,
      mistEveryHours: null,
    };
    const { run, display } = lived({}, 2000, [
      { ...event, room: null, towerOpen: false, fedMeanwhile: false, closedFilter: "restarted" },
    ]);
    expect(Math.min(...between(run, display, 3, 3.5))).toBeLessThan(23.5);
    expect(display.at(-1)!).toBeGreaterThan(24.9);
  });
});

it("a water surface at 25 °C radiates 5.7 W/(m2 K) (Stefan-Boltzmann at an emissivity of 0.95, by hand: 4 x 0.95 x 5.67e-8 x 298.15^3)", () => {
  expect(surfaceUWPerM2K(0, 25)).toBeCloseTo(5.71, 2);
});

it("the room is warmest at 15:00 and coldest at 03:00", () => {
  const day = { dayC: 24, nightC: 18 };
  expect(roomAtC(day, 5 + 15 / 24)).toBeCloseTo(24, 10);
  expect(roomAtC(day, 5 + 3 / 24)).toBeCloseTo(18, 10);
  expect(roomAtC(day, 5 + 9 / 24)).toBeCloseTo(21, 10);
});

describe("a scenario with heat data", () => {
  const base = `sumpwright: 1
name: cold room
tank: { inside: 1200 x 500 x 550 mm, lid: open }
sump: { inside: 800 x 400 x 400 mm, water: 200 mm }
return: { pump: 2400 L/h, outlet: 30 mm }
seed: mature
stock: [{ name: fish, count: 20, mass: 10 g }]
days: 10
`;
  it("a heater of 25 W in a room of 10 °C: states the power needed (over 430 W for the display alone, by hand) and the lowest temperature", async () => {
    const { text, level } = findingOf(await resultOf(`${base}room: { temperature: 10 °C }\nheater: 25 W\n`), "heat");
    expect(level).toBe("watch");
    expect(figure(text, /takes about/)).toBeGreaterThan(430);
    expect(figure(text, /takes about/)).toBeLessThan(900);
    expect(figure(text, /falls to/)).toBeLessThan(14);
  });

  it("a heat wave as weather: the water follows, and the finding reports that it is too warm", async () => {
    const wave = "timeline:\n  - { at: day 3, do: weather, room: 38 °C, night: 30 °C, for: 5 days }\n";
    const result = await resultOf(`${base}heater: 400 W\n${wave}`);
    expect(figure(findingOf(result, "heat-high").text, /warms to/)).toBeGreaterThan(29);
    expect(findingOf(result, "heat").word).toBe("HEATER");
  });

  it("water does not cool below its freezing point (0 °C fresh): with weather of -20 °C and no heater it stays there, and the finding says so", async () => {
    const result = await resultOf(`${base}heater: 0 W\ntimeline:\n  - { at: day 0, do: weather, room: -20 °C, for: 10 days }\n`);
    const water = result.nitrogen.series.filter(({ panel }) => panel === "temperature").flatMap(({ values }) => values);
    expect(Math.min(...water.filter((value) => value !== null))).toBe(0);
    const { text, word } = findingOf(result, "heat");
    expect(word).toBe("FREEZES");
    expect(text).toContain("begins to freeze");
  });

  it("lamps that would cook the water are refused at their place", async () => {
    await expect(resultOf(`${base}lamps: 5000 W\nheater: 0 W\n`)).rejects.toThrow(
      /lamps: more than 1 W on each litre of the tanks would cook/,
    );
  });

  it("without heat data the water stays at its temperature", async () => {
    const result = await resultOf(base);
    expect(result.findings.some(({ id }) => id === "heat")).toBe(false);
  });
});
