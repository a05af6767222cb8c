import { describe, expect, test } from "vitest";
import { loadScenario } from "../../../scenarios/load/load.ts";
import { withChanges } from "../../../scenarios/load/save.ts";

const TEXT = `# my tank, measured in May
sumpwright: 1
name: Mine # not yours

# with a tape
tank: { outside: 100 x 40 x 50 cm }
sump:
  outside: 60 x 35 x 40 cm
  water: 18 cm # from the floor
return: { pump: 2000 L/h, outlet: 3 cm }
`;

describe("saving a changed scenario", () => {
  test("keeps comments and order, and makes the requested changes", () => {
    const text = withChanges(TEXT, [
      { path: ["sump", "water"], value: "150 mm" },
      { path: ["seed"], value: "bottle" },
      { path: ["return", "hole"], value: "none" },
      { path: ["water", "temperature"], value: "24 C" },
    ]);
    expect(text).toBe(
      TEXT.replace("18 cm", "150 mm")
        .replace("outlet: 3 cm", "outlet: 3 cm, hole: none")
        .concat("seed: bottle\nwater:\n  temperature: 24 C\n"),
    );
    const loaded = loadScenario(text, "x.yaml");
    expect(loaded.ok && loaded.scenario.sump.water).toBeCloseTo(0.15, 12);
  });

  test("without changes the text is the same", () => expect(withChanges(TEXT, [])).toBe(TEXT));

  test("null removes a key, and removing it twice is the same as once", () => {
    const once = withChanges(TEXT, [{ path: ["return", "outlet"], value: null }]);
    expect(once).not.toContain("outlet");
    expect(withChanges(once, [{ path: ["return", "outlet"], value: null }])).toBe(once);
  });

  test("strings that YAML would read differently are quoted", () => {
    const text = withChanges(TEXT, [{ path: ["name"], value: "- [not a list]: # at all" }]);
    const loaded = loadScenario(text, "x.yaml");
    expect(loaded.ok && loaded.scenario.name).toBe("- [not a list]: # at all");
  });

  test("a key cannot be set inside a scalar", () => {
    expect(() => withChanges(TEXT, [{ path: ["return", "pump", "power"], value: "20 W" }])).toThrow(
      /plain word stands in its way/,
    );
    expect(() => withChanges("a: [", [])).toThrow(/cannot be changed/);
  });
});
