// Parts that do not fit, and animals and plants larger than any real ones, are refused with the key to change before
// the run starts.
import { expect, test } from "vitest";
import { loadScenario } from "../../../scenarios/load/load.ts";

const TANK = "inside: 100 x 40 x 50 cm";
const base = { tank: `{ ${TANK} }`, sump: "{ inside: 60 x 35 x 40 cm, water: 18 cm }", return: "{ pump: 2000 L/h }" };
const complaints = (changes: Readonly<Record<string, string>>): string => {
  const text = Object.entries({ sumpwright: "1", name: "x", ...base, ...changes })
    .map(([key, value]) => `${key}: ${value}`)
    .join("\n");
  const loaded = loadScenario(text, "x.yaml");
  return loaded.ok ? "" : loaded.errors.map(({ line, path, problem }) => `${line} ${path}: ${problem}`).join("\n");
};

test("the plain rig fits", () => expect(complaints({})).toBe(""));

test.each<readonly [what: string, changes: Readonly<Record<string, string>>, expected: RegExp]>([
  [
    "outlet below the floor",
    { return: "{ pump: 2000 L/h, outlet: 47 cm, hole: none }" },
    /^5 return.outlet: the outlet ends below the floor of the tank: 460 mm/,
  ],
  [
    "hole under its outlet",
    { return: "{ pump: 2000 L/h, outlet: 3 cm, hole: { depth: 5 cm } }" },
    /return.hole: the hole lies no higher/,
  ],
  [
    "drain that runs up",
    { tank: `{ ${TANK}, above sump: 10 cm }` },
    /tank.overflow.drains.to: the drain ends .* water does not run up/,
  ],
  [
    "edge below the floor",
    { tank: `{ ${TANK}, overflow: { crest: 60 cm } }` },
    /tank.overflow.crest: the edge lies below the tank's floor/,
  ],
  [
    "edge longer than the tank is round",
    { tank: `{ ${TANK}, overflow: { weir: 3 m } }` },
    /tank.overflow.weir: the edge is longer/,
  ],
  [
    "box too shallow",
    { tank: `{ ${TANK}, overflow: { box: 300 x 100 x 45 mm } }` },
    /tank.overflow.box: the floor of the box lies less than 20 mm below the edge/,
  ],
  [
    "box larger than the tank",
    { tank: `{ ${TANK}, overflow: { box: 100 x 45 x 20 cm } }` },
    /^3 tank: gravel, rock and overflow boxes do not fit \(no room/,
  ],
  [
    "tubes below their box",
    { tank: `{ ${TANK}, overflow: { kind: hang-on, siphon: { outlet: 40 cm } } }` },
    /siphon.outlet: the tubes end below the floor of the box/,
  ],
  [
    "mouth over the box",
    { tank: `{ ${TANK}, overflow: { drains: { mouth: 40 cm } } }` },
    /drains.mouth: the mouth of the drain stands above the rim/,
  ],
  [
    "float that switches off before it switches on",
    { "top off": "{ reservoir: 10 L, on below: 18 cm, off above: 17 cm }" },
    /^6 top off: .* off above must lie higher/,
  ],
  ["plants that outgrow any", { plants: "{ uptake: 5 g/day }" }, /plants.uptake: no plants take up so much: at most 0.61 g\/day/],
  [
    "ten per cent a day for a year",
    { stock: "[{ name: fish, count: 3, mass: 2 g, growth: 10 % }]", days: "365" },
    /stock\[1\].growth: after 365 days of such growth/,
  ],
])("%s is refused with its place", (_, changes, expected) => {
  expect(complaints(changes)).toMatch(expected);
});
