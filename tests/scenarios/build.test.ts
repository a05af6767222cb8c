import { describe, expect, test } from "vitest";
import { type BuildOptions, mostlyWritten, type ResolvedScenario, resolveScenario } from "../../scenarios/build/build.ts";
import { errorText, loadScenario } from "../../scenarios/load/load.ts";

const BASE = `sumpwright: 1
name: Test rig
tank: { outside: 1000 x 400 x 500 mm, glass: 10 mm, gravel: 0 mm, rock: 0 L, overflow: { weir: 300 mm, box place: outside } }
sump: { outside: 600 x 350 x 400 mm, glass: 6 mm, water: 200 mm }
return: { pump: 2000 L/h, outlet: 80 mm, hole: { bore: 4 mm, depth: 15 mm } }
`;

function resolved(text: string, options: Partial<BuildOptions> = {}): ResolvedScenario {
  const loaded = loadScenario(text, "x.yaml");
  if (!loaded.ok) throw new Error(loaded.errors.map(errorText).join("\n"));
  return resolveScenario(loaded.scenario, { units: mostlyWritten(text), unknownScale: "ion", weirHeadsM: {}, ...options });
}

describe("geometry", () => {
  test("inside dimensions: outside minus two walls on the sides, minus one in height", () => {
    const { rig } = resolved(BASE);
    const [display] = rig.displays;
    expect([display!.lengthM, display!.widthM, display!.heightM]).toEqual([0.98, 0.38, 0.49].map((m) => expect.closeTo(m, 12)));
    expect(rig.sump.lengthM).toBeCloseTo(0.588, 12);
    expect(resolved(BASE.replace("outside: 1000", "inside: 1000")).rig.displays[0]!.lengthM).toBe(1);
  });

  test("the water line is where it was measured, and the crest is lower by the weir head", () => {
    const { rig, surfaceZ } = resolved(BASE.replace("gravel: 0 mm", "gravel: 0 mm, water line: 50 mm"));
    const display = rig.displays[0]!;
    expect(surfaceZ.tank).toBeCloseTo(display.bottomZ + display.heightM - 0.05, 12);
    const head = surfaceZ.tank! - display.overflows[0]!.crestZ;
    // Francis 1883 by hand for 1200 L/h over 300 mm with 60 % open: (3.333e-4 / (1.838 * 0.18))^(2/3) = 10 mm.
    expect(head).toBeCloseTo(0.01, 3);
  });

  test("depths below the surface follow the computed head once it is known", () => {
    const options = { weirHeadsM: { "tank overflow": 0.02 } };
    const crest = BASE.replace("weir: 300 mm", "weir: 300 mm, crest: 60 mm");
    const guess = resolved(crest);
    const told = resolved(crest, options);
    const nozzle = told.rig.return.nozzles[0]!;
    expect(told.rig.displays[0]!.overflows[0]!.crestZ).toBe(guess.rig.displays[0]!.overflows[0]!.crestZ);
    expect(told.surfaceZ.tank).toBeCloseTo(told.rig.displays[0]!.overflows[0]!.crestZ + 0.02, 12);
    expect(nozzle.tipZ).toBeCloseTo(told.surfaceZ.tank! - 0.08, 12);
    expect(nozzle.breakHole!.z).toBeCloseTo(told.surfaceZ.tank! - 0.015, 12);
    // If the water line is given instead, the surface stays and the crest moves.
    const byLine = resolved(BASE, options);
    expect(byLine.surfaceZ).toEqual(resolved(BASE).surfaceZ);
    expect(byLine.surfaceZ.tank! - byLine.rig.displays[0]!.overflows[0]!.crestZ).toBeCloseTo(0.02, 12);
  });

  test("the water of the system is the content of its vessels", () => {
    const b = resolved(BASE.replace("gravel: 0 mm", "gravel: 0 mm, water line: 40 mm"));
    const byHand = 0.98 * 0.38 * 0.45 + 0.588 * 0.338 * 0.2 - 0.012 * 0.15;
    expect(b.waterM3).toBeCloseTo(byHand, 9);
  });

  test("gravel and rock displace water: 40 mm of gravel is 60 % grains", () => {
    const plain = resolved(BASE);
    const filled = resolved(BASE.replace("gravel: 0 mm, rock: 0 L", "gravel: 40 mm, rock: 10 L"));
    expect(plain.waterM3 - filled.waterM3).toBeCloseTo(0.98 * 0.38 * 0.04 * 0.6 + 0.01, 6);
  });

  test("a drain is wide enough for the label flow: one inch carries 600 US gallons per hour (common practice, no published source)", () => {
    const bore = (flow: string): number[] =>
      resolved(BASE.replace("2000 L/h", flow)).rig.displays[0]!.overflows[0]!.drains.map((d) => d.boreM);
    expect(bore("550 US gph")).toEqual([0.025]);
    expect(bore("700 US gph")).toEqual([0.032]);
    expect(bore("6000 US gph").length).toBeGreaterThan(1);
  });

  test("drains lead to the tower or chamber that they name", () => {
    const text = `${BASE.replace("box place: outside", "box place: outside, drains: [{ to: left }, { kind: dry emergency, to: sump }]")}tower:\n  - { name: right }\n  - { name: left, plan: 150 x 300 mm }\n`;
    const { rig } = resolved(text);
    expect(rig.displays[0]!.overflows[0]!.drains.map((d) => d.to)).toEqual(["left", "sump"]);
    expect(resolved(`${BASE}tower: none\n`).rig.displays[0]!.overflows[0]!.drains[0]!.to).toBe("sump");
  });

  test("a closed filter is by default on the first tank, with two turnovers per hour and its intake 50 mm above the floor, and these defaults are reported", () => {
    const b = resolved(
      `${BASE.replace("gravel: 0 mm", "gravel: 0 mm, water line: 40 mm")}closed filter: { name: canister, water: 5 L }\n`,
    );
    const [filter] = b.rig.closedFilters;
    expect(filter).toMatchObject({ id: "canister", on: "tank", waterM3: expect.closeTo(0.005, 12) });
    expect(filter!.media.volumeM3).toBeCloseTo(0.003, 12);
    expect(filter!.intakeDepthM).toBeCloseTo(0.4, 9);
    expect(filter!.flowM3PerS * 3600).toBeCloseTo(2 * 0.98 * 0.38 * 0.45, 9);
    expect(b.waterM3 - resolved(BASE.replace("gravel: 0 mm", "gravel: 0 mm, water line: 40 mm")).waterM3).toBeCloseTo(0.005, 12);
    expect(b.defaults.map((d) => d.key)).toEqual(
      expect.arrayContaining(["closed filter.on", "closed filter.flow", "closed filter.intake", "closed filter.media.volume"]),
    );
    expect(resolved(BASE).rig.closedFilters).toEqual([]);
  });

  test("a pump with only a label flow reaches the tank, and its curve is reported as estimated", () => {
    const { rig, surfaceZ, defaults } = resolved(BASE.replace("2000 L/h", "300 L/h"));
    expect(rig.return.pump.guessed).toBe(true);
    expect(rig.return.pump.curve[0]![1]).toBeGreaterThan(surfaceZ.tank! - rig.sump.runningLevelM);
    expect(defaults.find((d) => d.key === "return.pump.head")?.why).toMatch(/guessed/);
  });
});

describe("chemistry", () => {
  test("test-kit scales are converted to nitrogen by molar mass: 3 mg/L as NH3 is 2.47 of N, as NH4 2.33, as TAN 3", () => {
    const level = (dose: string, extra = ""): number | null => {
      const e = resolved(`${BASE}${extra}cycle: { dose: ${dose} }\n`).management.events[0]!;
      return e.kind === "dose" ? e.toLevel : null;
    };
    expect(level("3 mg/L as NH3")).toBeCloseTo(3 / 1.2159, 3);
    expect(level("3 mg/L as NH4")).toBeCloseTo(3 / 1.2879, 3);
    expect(level("3 mg/L as N")).toBe(3);
    expect(level("3 mg/L", "kit: { ammonia: NH4-N }\n")).toBe(3);
  });

  test("an unknown scale is interpreted both ways", () => {
    const dose = (unknownScale: "nitrogen" | "ion"): unknown =>
      resolved(`${BASE}cycle: { dose: 3 mg/L }\n`, { unknownScale }).management.events[0];
    expect(dose("nitrogen")).toMatchObject({ toLevel: 3 });
    expect(dose("ion")).toMatchObject({ toLevel: expect.closeTo(3 / 1.2879, 3) });
  });

  test("alkalinity in equivalents: 8 dKH is 2.86 meq/L, 143 mg/L CaCO3 as well (common practice, no published source)", () => {
    expect(resolved(`${BASE}tap: { kh: 8 dKH }\n`).management.tap.alkalinityEqPerM3).toBeCloseTo(2.856, 2);
    expect(resolved(`${BASE}tap: { kh: 143 mg/L CaCO3 }\n`).management.tap.alkalinityEqPerM3).toBeCloseTo(2.856, 2);
  });

  test("sea water of 35 g/kg contains about 19.8 g/L of chloride (Millero et al. 2008: 19.353 g/kg)", () => {
    const { start, tap } = resolved(`${BASE}water: { salinity: 35 ppt }\n`).management;
    expect(start.chlorideGPerM3).toBeGreaterThan(19_700);
    expect(start.chlorideGPerM3).toBeLessThan(19_950);
    expect(tap.ph).toBe(8.2);
  });
});

describe("timeline", () => {
  const at = (text: string) => resolved(`${BASE}days: 30\n${text}`).management.events;

  test("repeats are expanded up to the end of the run or to `until`", () => {
    expect(at("timeline: [{ at: day 7, every: 7 days, do: water change, share: 20 % }]\n").map((e) => e.day)).toEqual([
      7, 14, 21, 28,
    ]);
    expect(
      at("timeline: [{ at: day 0, every: 1 day, until: day 2, do: dose ammonia, to: 2 mg/L as N }]\n").map((e) => e.day),
    ).toEqual([0, 1, 2]);
    expect(at("timeline: [{ at: day 3 18:00, every: 36 h, until: day 6, do: feed, plan: 0 % }]\n").map((e) => e.day)).toEqual([
      3.75, 5.25,
    ]);
  });

  test("events are sorted by day; events of one day keep the order of the file", () => {
    const events = at(
      "timeline:\n  - { at: day 9, do: change pad }\n  - { at: day 2, do: lid, state: open }\n  - { at: day 9, do: siphon sediment }\n",
    );
    expect(events.map((e) => [e.day, e.kind])).toEqual([
      [2, "lid"],
      [9, "change pad"],
      [9, "siphon sediment"],
    ]);
  });

  test("a rise in concentration is converted to an amount: 2 mg/L as N in the water of the system", () => {
    const b = resolved(`${BASE}timeline: [{ at: day 1, do: dose ammonia, add: 2 mg/L as N }]\n`);
    expect(b.management.events[0]).toMatchObject({ amount: expect.closeTo(2 * b.waterM3, 9), toLevel: null });
  });

  test("84 g of sodium bicarbonate is one equivalent (molar mass 84.007 g, given to five digits)", () => {
    const b = resolved(`${BASE}timeline: [{ at: day 1, do: add bicarbonate, mass: 84.007 g }]\n`);
    expect(b.management.events[0]).toMatchObject({ substance: "bicarbonate", amount: expect.closeTo(1, 4) });
  });

  test("a power cut has its hours, its room and the actions during it", () => {
    expect(
      at("timeline: [{ at: day 1, do: power cut, for: 36 h, mist every: 4 h, room temperature: 14 C, tower open: true }]\n")[0],
    ).toMatchObject({
      hours: 36,
      mistEveryHours: 4,
      towerOpen: true,
      everythingOff: true,
      room: { temperatureC: 14 },
    });
  });

  test("a new tank without a stock list has a fishless cycle; one with a stock list does not", () => {
    expect(resolved(BASE).fishless).toBe(true);
    const stocked = resolved(`${BASE}stock: [{ name: tetras, count: 10, mass: 2 g }]\n`);
    expect(stocked.fishless).toBe(false);
    expect(stocked.management.events.map((event) => event.kind)).not.toContain("dose");
    expect(stocked.management.groups[0]!.foodGPerDay).toBeCloseTo(0.4, 12);
    expect(stocked.food!.gPerDay).toBeCloseTo(0.4, 12);
  });

  test("pads are changed once a month where animals are fed, unless the file gives an interval, `never`, or its own days", () => {
    const fed = `${BASE}days: 60\nstock: [{ name: tetras, count: 10, mass: 2 g }]\n`;
    const padDays = (text: string) =>
      resolved(text)
        .management.events.filter((event) => event.kind === "change pad")
        .map((event) => event.day);
    expect(padDays(`${BASE}days: 60\n`)).toEqual([]);
    expect(padDays(fed)).toEqual([28, 56]);
    expect(padDays(`${fed}tower: { prefilter: { changed: 20 days } }\n`)).toEqual([20, 40, 60]);
    expect(padDays(`${fed}tower: { prefilter: { changed: never } }\n`)).toEqual([]);
    expect(padDays(`${fed}timeline: [{ at: day 9, do: change pad }]\n`)).toEqual([9]);
    expect(padDays(`${fed}timeline: [{ at: day 9, do: pad clogs, blinded: 50 % }]\n`)).toEqual([]);
  });

  test("too many events are refused at the place where they are written", () => {
    const loaded = loadScenario(`${BASE}days: 3660\ntimeline: [{ at: day 0, every: 1 h, do: feed }]\n`, "x.yaml");
    expect(loaded.ok ? "" : errorText(loaded.errors[0]!)).toMatch(
      /x\.yaml:7:12 timeline\[1\]: with its repeats .* more than 20000 events/,
    );
  });
});

test("every derived value is listed with its reason, given values are not", () => {
  const { defaults } = resolved(BASE);
  const keys = defaults.map((d) => d.key);
  expect(new Set(keys).size).toBe(keys.length);
  for (const d of defaults) expect(d.value && d.why).toBeTruthy();
  expect(keys).toContain("tank.above sump");
  expect(keys).not.toContain("tank.glass");
  expect(keys).not.toContain("tank.overflow.weir");
});

test("the units that are used most come first", () => {
  expect(mostlyWritten(BASE)).toBe("metric");
  expect(mostlyWritten("tank: { outside: 48 x 18 x 21 in }\nreturn: { pump: 600 US gph }\nwater: { temperature: 78 °F }")).toBe(
    "US",
  );
  expect(resolved(`${BASE}units: US\n`).units).toBe("US");
});
