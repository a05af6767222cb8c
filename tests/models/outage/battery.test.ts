import { describe, expect, it } from "vitest";
import { batteryAnswer, runtimeH } from "../../../models/outage/battery.ts";
import { BLANKET, restingHeatNetwork } from "../../../models/outage/resting-heat.ts";
import { temperatureCurve } from "../../../models/outage/temperature.ts";
import { plainCut, restOfTank, tankWithFish } from "./rest.ts";

const loads = { airW: 3, returnW: 40, heaterW: 300 };

describe("CO-4: 300 W heater, 40 W return, 3 W air pump, 500 Wh, 10 h winter cut, 300 L, 1 kg (common practice, no published source)", () => {
  const answer = batteryAnswer(500, loads, 10);
  const alone = (id: string) => answer.alone.find((load) => load.id === id)?.hours.likely;

  it("air alone runs 100 h and more, the return pump about 10 h, the heater about 1.5 h", () => {
    expect(alone("air")).toBeGreaterThan(100);
    expect(alone("return")).toBeCloseTo(10, 0);
    expect(alone("heater")).toBeGreaterThan(1.2);
    expect(alone("heater")).toBeLessThan(1.7);
  });

  it("the order is air first, heater never, and the blanket is named (fails if all run together)", () => {
    expect(answer.order[0]).toEqual({ id: "air", hours: 10 });
    expect(answer.order.some((step) => step.id === "heater")).toBe(false);
    expect(answer.words.join(" ")).toMatch(/blanket/);
    expect(answer.allTogether.likely).toBeLessThan(2);
    // No energy is spent twice: air 30 Wh, the rest for the return pump.
    const spent = answer.order.reduce((sum, { id, hours }) => sum + hours * (id === "air" ? 3 : 40), 0);
    expect(spent).toBeLessThanOrEqual(500 * 0.8 + 1e-9);
    expect(answer.order[1].hours).toBeCloseTo((400 - 30) / 40, 9);
  });

  it("the temperature falls by about 2 to 4 K in 10 h (covered tank in a room of 19 °C), less with a blanket", () => {
    const aquarium = tankWithFish(300, 1, 10, 50);
    const covered = { ...aquarium.rig.displays[0], lid: "covered" as const };
    const rest = { ...restOfTank(aquarium), rig: { ...aquarium.rig, displays: [covered] } };
    const cut = { ...plainCut, batteryAir: true, hours: 10, room: { temperatureC: 19, relativeHumidity: 0.5 } };
    const fall = (network: ReturnType<typeof restingHeatNetwork>) => 25 - temperatureCurve(network, [25, 25, 25], 10).at(10)[0];
    const bare = fall(restingHeatNetwork(rest, cut));
    expect(bare).toBeGreaterThan(1.5);
    expect(bare).toBeLessThan(4);
    expect(fall(restingHeatNetwork(rest, cut, BLANKET))).toBeLessThan(0.8 * bare);
  });

  it("a battery too small even for air is reported; loads of zero are omitted", () => {
    const small = batteryAnswer(20, { airW: 3, returnW: 0, heaterW: 0 }, 10);
    expect(small.order).toHaveLength(1);
    expect(small.order[0].hours).toBeCloseTo(16 / 3, 9);
    expect(small.words[0]).toMatch(/a quarter of an hour at a time/);
    expect(small.alone).toHaveLength(1);
    expect(runtimeH(500, 3).low).toBeLessThan(runtimeH(500, 3).high);
  });
});
