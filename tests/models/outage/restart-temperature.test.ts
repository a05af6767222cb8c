// What the display comes to at the restart: calorimetry by hand.
import { describe, expect, test } from "vitest";
import { restartTemperature } from "../../../models/outage/restart-temperature.ts";
import { cutTemperatures } from "../../../models/outage/temperature.ts";
import { restartFindings } from "../../../scenarios/findings/restart-temperature.ts";
import { tank } from "../nitrogen/cases.ts";
import { plainCut, restOfTank } from "./rest.ts";

const base = restOfTank(tank({ litres: 200 }));
const climate = { dayC: 21, nightC: 21, ownRooms: { sump: { dayC: 5, nightC: 5 } }, lampsW: 0 };
const cellar = { ...base, management: { ...base.management, climate } };
const cut = { ...plainCut, hours: 12 };
const running = {
  volumesM3: base.volumesM3,
  flows: [{ from: 2, to: 0, m3PerDay: 24 }],
};

describe("restart after a cut", () => {
  test("the water mixes to the mean of its parts, each weighed by its volume (to the change of density and heat capacity)", () => {
    const temperatures = cutTemperatures(cellar, cut, 12).at(12);
    const volume = base.volumesM3.reduce((a, b) => a + b, 0);
    const mean = base.volumesM3.reduce((sum, v, c) => sum + v * temperatures[c]!, 0) / volume;
    const { displayC, otherC, mixedC, turnoverS } = restartTemperature(cellar, cut, running);
    expect(mixedC).toBeCloseTo(mean, 1);
    expect(displayC).toBe(temperatures[0]);
    expect(otherC).toBeLessThan(displayC - 3);
    expect(mixedC).toBeLessThan(displayC);
    expect(mixedC).toBeGreaterThan(otherC);
    // 1000 L an hour.
    expect(turnoverS).toBeCloseTo((3600 * base.volumesM3[0]!) / 1, 6);
  });

  test("a sump in the same room gives no sentence; one in a cold cellar gives the fall and the advice to mix slowly", () => {
    expect(restartFindings({ ...cut, hours: 4 }, restartTemperature(base, { ...cut, hours: 4 }, running))).toEqual([]);
    const cold = { displayC: 23, otherC: 12, mixedC: 19.5, turnoverS: 720 };
    const [finding] = restartFindings(cut, cold);
    expect(finding).toMatchObject({ word: "COLD RESTART", consequence: "harm" });
    expect(restartFindings(cut, { ...cold, mixedC: 21.5 })[0]!.consequence).toBe("none");
    expect(restartFindings(cut, { ...cold, mixedC: 25 })[0]!.word).toBe("WARM RESTART");
  });
});
