import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { mostlyWritten, resolveScenario } from "../../scenarios/build/build.ts";
import { errorText, loadScenario } from "../../scenarios/load/load.ts";
import { scenarioJsonSchema } from "../../scenarios/schema/json-schema.ts";

const folder = new URL("../../scenarios/shipped/", import.meta.url);
const shipped = readdirSync(folder).filter((name) => name.endsWith(".yaml"));
const textOf = (name: string): string => readFileSync(new URL(name, folder), "utf8");

function load(name: string) {
  const loaded = loadScenario(textOf(name), name);
  if (!loaded.ok) throw new Error(loaded.errors.map(errorText).join("\n"));
  return loaded;
}

const finite = (value: unknown, path: string): string[] => {
  if (typeof value === "number") return Number.isFinite(value) ? [] : [path];
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => finite(inner, `${path}.${key}`));
};

describe("shipped scenarios", () => {
  test("both unit systems are used, and there are at least twelve", () => {
    expect(shipped.length).toBeGreaterThanOrEqual(12);
    expect(new Set(shipped.map((name) => mostlyWritten(textOf(name))))).toEqual(new Set(["metric", "US"]));
  });

  test.each(shipped)("%s loads without a warning, asks a question, and builds", (name) => {
    const { scenario, warnings } = load(name);
    expect(warnings).toEqual([]);
    expect(scenario.question).toMatch(/\?$/);
    const resolved = resolveScenario(scenario, { units: mostlyWritten(textOf(name)), unknownScale: "ion", weirHeadsM: {} });
    expect(resolved.warnings).toEqual([]);
    expect(finite(resolved, name)).toEqual([]);
    for (const display of resolved.rig.displays) {
      const surface = resolved.surfaceZ[display.id]!;
      expect(surface).toBeLessThan(display.bottomZ + display.heightM);
      for (const overflow of display.overflows) {
        expect(overflow.crestZ).toBeLessThan(surface);
        expect(overflow.box.floorZ).toBeLessThan(overflow.crestZ);
        for (const drain of overflow.drains) expect(overflow.box.floorZ + drain.inletM).toBeGreaterThan(drain.outletZ);
      }
    }
    const days = resolved.management.events.map((e) => e.day);
    expect(days).toEqual([...days].sort((a, b) => a - b));
  });

  test("the ten-line file and the builder's file both report their defaults", () => {
    const short = load("first-tank.yaml");
    const long = load("client-750.yaml");
    expect(
      textOf("first-tank.yaml")
        .split("\n")
        .filter((line) => line !== "" && !line.startsWith("#")).length,
    ).toBeLessThanOrEqual(11);
    expect(long.defaults.length).toBeLessThan(short.defaults.length);
  });

  test("every key used by a shipped scenario has a description in the published schema", () => {
    const undescribed: string[] = [];
    const visit = (node: unknown, path: string): void => {
      if (typeof node !== "object" || node === null) return;
      const { properties } = node as { properties?: Record<string, { description?: string; const?: unknown }> };
      for (const [key, field] of Object.entries(properties ?? {}))
        if (!field.description && field.const === undefined) undescribed.push(`${path}.${key}`);
      for (const [key, inner] of Object.entries(node)) visit(inner, `${path}.${key}`);
    };
    visit(scenarioJsonSchema(), "");
    expect(undescribed).toEqual([]);
  });
});
