// The sizing search on one tank and one kind of media; the row that it chooses is simulated again by itself.
import { beforeAll, describe, expect, test } from "vitest";
import { OutageSimulator } from "../../../models/hydraulics/outage/outage-simulation.ts";
import { fitAndLoad } from "../../../models/hydraulics/planning/cabinet-fit.ts";
import { withoutSafeguards } from "../../../models/hydraulics/planning/fill-levels.ts";
import { createCourse } from "../../../scenarios/forecast/course.ts";
import { dataOf } from "../../../scenarios/load/edits.ts";
import { errorText, loadScenario } from "../../../scenarios/load/load.ts";
import { coupleModels, nitrogenSetup } from "../../../scenarios/model/compile.ts";
import { grownIn, trialOf, withTower } from "../../../scenarios/sizing/grown-in.ts";
import { hasRange, levelsOf } from "../../../scenarios/sizing/levels.ts";
import type { SizeRow, Sizes } from "../../../scenarios/sizing/size-types.ts";
import { SizeTexts } from "../../../scenarios/sizing/size-words.ts";
import { sizesOf } from "../../../scenarios/sizing/sizes.ts";
import { ownThreadPool } from "../../../sim/ensemble/ensemble.ts";

const text = `sumpwright: 1
name: Sizes
tank: { outside: 100 x 40 x 50 cm, surface: 0.3 m2 }
sump: { outside: 60 x 35 x 40 cm, water: 18 cm }
tower: { depth: 25 cm, media: { kind: plastic ring 25 mm } }
return: { pump: 2000 L/h, outlet: 9 cm, hole: none }
cabinet: { inside: 96 x 38 x 75 cm, door: 42 x 70 cm }
water: { temperature: 25 °C }
tap: { ph: 7.6, kh: 8 dKH }
stock: { name: fish, count: 12, mass: 8 g, food: 3 g/day }
timeline:
  - { at: day 7, every: 7 days, do: water change, share: 30 % }
days: 42
`;
const request = {
  limits: { no2GPerM3: 0.5 / 3.2845, nh3GPerM3: 0.02 },
  confidence: 0.6,
  turnovers: [4, 400],
  media: ["plastic ring 25 mm"],
};
const runner = () => ({ pool: ownThreadPool(createCourse()), signal: new AbortController().signal });

function modelOf(scenario: string) {
  const loaded = loadScenario(scenario, "sizes.yaml");
  if (!loaded.ok) throw new Error(loaded.errors.map(errorText).join("\n"));
  return coupleModels(loaded.scenario, scenario);
}

let sizes: Sizes;
let row: SizeRow;
const written = modelOf(text);
beforeAll(async () => {
  const { rig } = written.resolved;
  sizes = await sizesOf({ file: "sizes.yaml", source: text, data: dataOf(text), rig }, written, request, {
    ...runner(),
    seed: "1",
    members: 4,
    checked: 6,
  });
  row = sizes.rows[0]!;
}, 120_000);

describe("a row of the sizing search (some 20 seconds)", () => {
  test("works, says what limits each part, and the impossible turnover says why it does not", () => {
    expect(row.failure).toBeNull();
    expect(sizes.rows[1]).toMatchObject({ turnover: 400, failure: "pump" });
    const { rows, sentences } = new SizeTexts(written.resolved, request, sizes).texts();
    expect(sentences[0]).toMatch(/^1 of 2 choices work/);
    expect(rows[0]!.limits.map((limit) => limit.split(" by the ")[0])).toEqual([
      "media",
      "tower",
      "sump",
      "pump",
      expect.stringMatching(/^closest to its limit: /),
    ]);
    expect(rows[1]!.limits).toEqual([expect.stringMatching(/^pump by its head/)]);
  });

  test("its scenario alone holds: power cut with blocked holes, pump, cabinet, and other members with meals", async () => {
    const coupled = modelOf(row.text!);
    const { rig } = coupled.resolved;
    const { verdict } = new OutageSimulator(withoutSafeguards(rig)).simulate({ keepTrace: false, follow: false });
    expect(verdict.word).toBe("HOLDS");
    expect(verdict.warnings.filter((warning) => warning.includes("draws air"))).toEqual([]);
    expect(coupled.running.turnoverPerHour).toBeGreaterThanOrEqual(3.9);
    expect(fitAndLoad(rig).fit.filter(({ fits }) => !fits)).toEqual([]);
    const setup = nitrogenSetup(coupled, coupled.simulator.simulate());
    const again = await trialOf(grownIn(setup), request.limits, { members: 10, seed: "other", meals: true }, runner());
    expect(again.share).toBeGreaterThanOrEqual(request.confidence);
  }, 60_000);

  test("less does not: a third of the media breaks the limits, and a sump 30 mm shorter has no level to run at", async () => {
    const coupled = modelOf(row.text!);
    const { rig } = coupled.resolved;
    const setup = nitrogenSetup(coupled, coupled.simulator.simulate());
    const third = withTower(grownIn(setup), { mediaDepthM: row.tower!.depthM / 3 });
    const { share } = await trialOf(third, request.limits, { members: 6, seed: "other", meals: true }, runner());
    expect(share).toBeLessThan(request.confidence);
    const shorter = {
      ...rig.sump,
      lengthM: rig.sump.lengthM - 0.03,
      chambers: rig.sump.chambers.map((chamber) => ({ ...chamber, lengthM: chamber.lengthM - 0.03 })),
    };
    expect(hasRange(levelsOf({ ...rig, sump: shorter }))).toBe(false);
  }, 60_000);

  test("as written: the smallest reserve is under that as written, and the largest load is consistent with the least media", () => {
    const { leastReserve, reserve, largestLoad, leastMediaM3, mediaM3, shortestSumpM } = sizes.written;
    expect(shortestSumpM).not.toBeNull();
    expect(leastReserve!.roomM3).toBeGreaterThan(leastReserve!.comesBackM3);
    expect(leastReserve!.roomM3 < reserve.roomM3).toBe(sizes.written.levels.highM! > sizes.written.runsAtM);
    if (largestLoad >= 1) expect(leastMediaM3!).toBeLessThanOrEqual(mediaM3! + 1e-9);
    else expect(leastMediaM3).toBeNull();
  });
});
