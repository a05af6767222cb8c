// Shocks from the scenario file to the finding about each (NI-10 to NI-14, NI-18, NI-21: common practice, no
// published source). tests/models/nitrogen tests the trajectories.
import { describe, expect, it } from "vitest";
import { figure, findingOf, resultOf } from "./told.ts";

const BASE = `sumpwright: 1
name: A shock
kit: { ammonia: NH3, nitrite: NO2, nitrate: NO3 }
tank: { outside: 1000 x 430 x 500 mm }
sump: { outside: 700 x 380 x 400 mm, water: 190 mm }
return: { pump: 2400 L/h, outlet: 30 mm, hole: { bore: 4 mm, depth: 10 mm } }
seed: mature
stock: [{ name: fish, count: 20, mass: 20 g, food: 5 g/day, protein: 45 %, at: ["09:00", "18:00"] }]
`;
const CHANGES = "  - { at: day 2, every: 4 days, do: water change, share: 25 % }\n";
const told = (event: string, more = "", base = BASE) => resultOf(`${base}days: 24\n${more}timeline:\n${CHANGES}  - ${event}\n`);
const ammonia = /ammonia to/;
const nitrite = /nitrite to/;

describe("findings about a shock", () => {
  it("NI-10 all media rinsed under the tap: ammonia and nitrite are readable, and the finding says for how long (fails if there is none)", async () => {
    const { text, level, advice } = findingOf(await told("{ at: day 8, do: rinse media, lost: 95 % }"), "shock-rinse");
    expect(level).toBe("watch");
    expect(figure(text, ammonia)).toBeGreaterThan(0.25);
    expect(figure(text, nitrite)).toBeGreaterThan(0.25);
    // The same plan without it has lower readings, which shows the cause.
    expect(figure(text, /ammonia would reach/)).toBeLessThan(0.5 * figure(text, ammonia));
    expect(text).toMatch(/A kit shows ammonia for/);
    expect(advice).toMatch(/tank water, never under the tap/);
  });

  it("NI-11 a dead fish found after a week: ammonia rises days later, not at once", async () => {
    const { text } = findingOf(await told("{ at: day 8, do: death, mass: 150 g, found: day 15 }"), "shock-death");
    expect(figure(text, ammonia)).toBeGreaterThan(0.25);
    expect(figure(text, /as NH3 on day/)).toBeGreaterThan(10);
  });

  it("NI-13 a medicine that hits nitrite oxidisers: nitrite alone, 1 to 5 mg/L (fails if ammonia spikes as high)", async () => {
    const event = "{ at: day 8, do: medicine, ammonia oxidisers lost: 50 %, nitrite oxidisers lost: 90 % }";
    // Four grams of food a day, as in NI-13.
    const { text } = findingOf(await told(event, "", BASE.replace("5 g/day", "4 g/day")), "shock-medicine");
    expect(figure(text, nitrite)).toBeGreaterThan(1);
    expect(figure(text, nitrite)).toBeLessThan(5);
    // Ammonia is named only where it rises at all.
    if (ammonia.test(text)) expect(figure(text, ammonia)).toBeLessThan(0.2 * figure(text, nitrite));
  });

  it("NI-14 chloramine tap: a quarter of a mg/L when conditioned, more when it reaches the films", async () => {
    const event = "{ at: day 8 12:00, do: water change, share: 50 % }";
    const tap = (conditioner: boolean) => `tap: { chloramine: 2 mg/L as Cl2, conditioner: ${conditioner} }\n`;
    const [treated, raw] = [await told(event, tap(true)), await told(event, tap(false))].map(
      (result) => findingOf(result, "shock-water-change-850").text,
    );
    expect(figure(treated, ammonia)).toBeLessThan(0.5);
    expect(figure(raw, ammonia)).toBeGreaterThan(1.5 * figure(treated, ammonia));
  });

  it("NI-18 half the water of an acid tank changed: ammonia halves and un-ionised ammonia rises to about 0.055 mg/L (fails if the change is recommended)", async () => {
    const acid = "water: { ph: 5.8, kh: 0.2 dKH, ammonia: 5 mg/L as N, nitrate: 150 mg/L as NO3 }\ntap: { ph: 7.6, kh: 7 dKH }\n";
    const { text, level, value, advice } = findingOf(
      await told("{ at: day 1, do: water change, share: 50 % }", acid),
      "freed-ammonia",
    );
    expect(level).toBe("watch");
    expect(figure(text, /ammonia goes from/) / figure(text, /as NH3 to/)).toBeCloseTo(2, 0);
    expect(value).toBeGreaterThan(0.03);
    expect(value).toBeLessThan(0.1);
    expect(advice).toMatch(/a little at a time/);
  });

  it("NI-21 heat and a sealed tower: lower pH and less oxygen than with ventilation (fails if the air side is ignored)", async () => {
    const room = "room: { temperature: 29 °C, humidity: 60 % }\nwater: { temperature: 30 °C }\n";
    const { text, advice } = findingOf(await told("{ at: day 8, do: lid, state: sealed }", room), "shock-lid");
    expect(text).toMatch(/pH falls to/);
    expect(advice).toMatch(/vent/);
  });

  it("a repeated shock has one finding, and a harmless one has none", async () => {
    const result = await resultOf(
      `${BASE}days: 24\ntimeline:\n${CHANGES}  - { at: day 4, every: 5 days, do: rinse media, lost: 10 % }\n`,
    );
    expect(result.findings.filter(({ id }) => id.startsWith("shock-")).map(({ id }) => id)).toEqual(["shock-rinse-media-400"]);
  });
});
