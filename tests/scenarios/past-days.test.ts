// An event on the last day changes nothing in the results for earlier days.
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { RunResult } from "../../scenarios/result/result.ts";
import fc from "../fast-check.ts";
import { findingOf, resultOf } from "./told.ts";

const shipped = (name: string): string => readFileSync(new URL(`../../scenarios/shipped/${name}.yaml`, import.meta.url), "utf8");
const withEvents = (text: string, ...events: readonly string[]): string =>
  `${text}\ntimeline:\n${events.map((event) => `  - ${event}`).join("\n")}\n`;

/** All curves of a result up to a day. */
const curvesUntil = ({ nitrogen: { series, timeDays } }: RunResult, day: number) =>
  Object.fromEntries(series.map(({ id, values }) => [id, values.filter((_, n) => timeDays[n] < day)]));

describe("a run-in of 70 days without animals, ready on day 34", () => {
  const plain = resultOf(shipped("fishless-cycle-180"));
  const lateEvents = {
    "a colder thermostat": "{ at: day 69.9, do: temperature, to: 18 °C }",
    "a tower run nearly dry": "{ at: day 69.9, do: wetting, wetted: 5 % }",
    "a medicine":
      "{ at: day 69, do: medicine, ammonia oxidisers lost: 0 %, nitrite oxidisers lost: 0 %, slows: 80 %, for: 2 days }",
    "a warmer thermostat": "{ at: day 69.9, do: temperature, to: 32 °C }",
    "a power cut to the end": "{ at: day 69.9, do: power cut, for: 12 h }",
  };
  for (const [name, event] of Object.entries(lateEvents))
    it(`${name} at the end leaves readiness, capacity, surfaces and curves as they were`, async () => {
      const [before, after] = [await plain, await resultOf(withEvents(shipped("fishless-cycle-180"), event))];
      expect(findingOf(before, "ready").word).toBe("READY");
      expect(findingOf(after, "ready")).toEqual(findingOf(before, "ready"));
      expect(after.nitrogen.surfaces).toEqual(before.nitrogen.surfaces);
      expect(curvesUntil(after, 69)).toEqual(curvesUntil(before, 69));
      expect(after.calendar.filter(({ day }) => day < 69)).toEqual(before.calendar.filter(({ day }) => day < 69));
    });
});

describe("a stocked tank in which ammonia is highest early", () => {
  const tank = `sumpwright: 1
name: Past days
kit: { ammonia: NH3, nitrite: NO2, nitrate: NO3 }
tank: { inside: 1000 x 400 x 500 mm, water line: 50 mm, gravel: 0 mm, rock: 0 L, overflow: { weir: 300 mm, open: 60 % } }
sump: { inside: 700 x 350 x 400 mm, water: 200 mm }
tower: { plan: 260 x 330 mm, depth: 260 mm }
return: { pump: { flow: 2000 L/h, power: 30 W }, outlet: 40 mm, hole: { bore: 4 mm, depth: 15 mm } }
water: { temperature: 24 °C, kh: 8 dKH }
tap: { ph: 6.6, kh: 8 dKH }
seed: { share: 30 % }
stock: [{ name: fish, count: 20, mass: 5 g, food: 3 g/day }]
days: 21
`;
  const early = ["{ at: day 10, do: water change, share: 50 % }", "{ at: day 5, do: rinse media, lost: 50 % }"];
  const plain = resultOf(withEvents(tank, ...early));
  const late = fc.constantFrom(
    "do: temperature, to: 31 °C",
    "do: temperature, to: 17 °C",
    "do: wetting, wetted: 5 %",
    "do: medicine, ammonia oxidisers lost: 50 %, nitrite oxidisers lost: 70 %, slows: 90 %, for: 3 days",
    "do: water change, share: 60 %",
    "do: lid, state: sealed",
    "do: pad clogs, blinded: 90 %",
    "do: replace media, share: 80 %",
    "do: power cut, for: 8 h",
    "do: plants, uptake: 0.3 g/day",
  );

  it("any late event leaves curves and findings about earlier days as they were", async () => {
    await fc.assert(
      fc.asyncProperty(late, fc.constantFrom(20.98, 20.995), async (event, day) => {
        const [before, after] = [await plain, await resultOf(withEvents(tank, ...early, `{ at: day ${day}, ${event} }`))];
        expect(curvesUntil(after, 20), event).toEqual(curvesUntil(before, 20));
        for (const id of [
          "ammonia-harm",
          "nitrite-harm",
          "peak-ammonia",
          "peak-nitrite",
          "shock-rinse-media-500",
          "shock-water-change-1000",
        ])
          expect(
            after.findings.find((finding) => finding.id === id),
            `${id} after ${event}`,
          ).toEqual(before.findings.find((finding) => finding.id === id));
      }),
      { numRuns: 10 },
    );
  });
});
