import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import * as z from "zod";
import { exampleOf } from "../../../scenarios/fields/examples.ts";
import { sections } from "../../../scenarios/fields/insides.ts";
import { errorText, loadScenario } from "../../../scenarios/load/load.ts";
import { complaintsOf } from "../../../scenarios/load/schema-errors.ts";
import { scenarioSchema } from "../../../scenarios/schema/schema.ts";
import { editDistance, nearest } from "../../../scenarios/text/suggest.ts";
import fc from "../../fast-check.ts";

const broken = new URL("./broken/", import.meta.url);
const names = readdirSync(broken).filter((name) => name.endsWith(".yaml"));

const SHORT = `sumpwright: 1
name: Short
tank: { outside: 100 x 40 x 50 cm }
sump: { outside: 60 x 35 x 40 cm, water: 18 cm }
return: { pump: 2000 L/h, outlet: 3 cm }
`;

const messages = (text: string): string => {
  const loaded = loadScenario(text, "x.yaml");
  return loaded.ok ? "fine" : loaded.errors.map(errorText).join("\n");
};

describe("broken files say exactly what is wrong, where, and what was expected", () => {
  test.each(names)("%s", (name) => {
    const loaded = loadScenario(readFileSync(new URL(name, broken), "utf8"), name);
    if (loaded.ok) throw new Error("should have been refused");
    const expected = readFileSync(new URL(name.replace(".yaml", ".txt"), broken), "utf8");
    expect(`${loaded.errors.map(errorText).join("\n")}\n`).toBe(expected);
  });

  test("every caret is under a part of the line that it shows", () => {
    for (const name of names) {
      const text = readFileSync(new URL(name, broken), "utf8");
      const loaded = loadScenario(text, name);
      if (loaded.ok) throw new Error("should have been refused");
      for (const e of loaded.errors) {
        if (e.frame === "") continue;
        const [shown, carets] = e.frame.split("\n") as [string, string];
        expect(shown.slice(8)).toBe(text.split("\n")[e.line - 1]!.replaceAll("\t", " "));
        expect(carets.indexOf("^") - 8).toBe(e.column - 1);
      }
    }
  });
});

describe("unusual input", () => {
  test("too long, too deep, no text at all", () => {
    expect(messages("a".repeat(1_000_001))).toMatch(/longer than 1 million/);
    expect(messages("[".repeat(50_000))).toMatch(/nested too deeply/);
    expect(messages("{a: ".repeat(5000))).toMatch(/nested too deeply/);
    expect(messages("- ".repeat(5000))).toMatch(/nested too deeply/);
    expect(messages("\0\0")).toMatch(/not a text file/);
  });

  test("a hundred wrong keys give fifty errors and the count of the rest", () => {
    const loaded = loadScenario(`${SHORT}${Array.from({ length: 100 }, (_, i) => `zz${i}: 1\n`).join("")}`, "x.yaml");
    if (loaded.ok) throw new Error("should have been refused");
    expect(loaded.errors).toHaveLength(51);
    expect(loaded.errors[50]!.problem).toBe("and 50 more");
  });

  test("Windows line ends, a byte order mark, quotes and anchors are accepted", () => {
    expect(messages(SHORT.replaceAll("\n", "\r\n"))).toBe("fine");
    expect(messages(`\uFEFF${SHORT}`)).toBe("fine");
    expect(messages(SHORT.replace("100 x 40 x 50 cm", '"100 x 40 x 50 cm"'))).toBe("fine");
    expect(messages(`${SHORT}water: &w { temperature: 25 C }\n`)).toBe("fine");
  });

  test("a caret inside a quoted string points at the error", () => {
    const text = messages(SHORT.replace("2000 L/h", '"2000 gph"'));
    expect(text).toContain("x.yaml:5:23 return.pump");
  });

  test("any text gives a scenario or errors, never an exception", () => {
    const pieces = fc.constantFrom(
      "sumpwright: 1\n",
      "name: x\n",
      "tank: ",
      "{ outside: 1 m }",
      "[",
      "]",
      "{",
      "}",
      "\n",
      "  ",
      "- ",
      ": ",
      "&a ",
      "*a ",
      "!!int ",
      "'",
      '"',
      "#",
      "|\n",
      ">\n",
      "? ",
      "---\n",
      "..\n",
      "%YAML 9\n",
      "\t",
      "0x1f",
      ".inf",
      "12 mm",
      "é",
      "\u2028",
      "kit: ",
      "timeline:\n",
      "  - { at: day 1, do: feed }\n",
    );
    fc.assert(
      fc.property(fc.array(pieces, { maxLength: 25 }), (parts) => {
        const loaded = loadScenario(parts.join(""), "x.yaml");
        if (!loaded.ok) for (const e of loaded.errors) expect(errorText(e)).not.toMatch(/undefined|\[object|NaN/);
      }),
      { numRuns: 1500 },
    );
  });

  test("any change of one letter in a valid file is accepted or refused, never thrown", () => {
    fc.assert(
      fc.property(fc.nat(SHORT.length - 1), fc.constantFrom(..."x0:{}[],-'\"\n &*!|>%@`"), (at, letter) => {
        messages(SHORT.slice(0, at) + letter + SHORT.slice(at + 1));
      }),
      { numRuns: 800 },
    );
  });
});

describe("error messages", () => {
  /** Words from the library's own messages, and words that must not appear in ours. */
  const RAW = /invalid|expected|received|unrecognized|too (?:small|big)|zod|undefined|\[object|NaN/i;
  const WRONG = [0, -1, 1.5, true, null, "", "x", "yes", "1/4 in", "12", "12 qq", [], [[]], {}, { x: 1 }, ["x"], [1, 2]] as const;

  test("never contain raw text of a library, whatever value is at any place of the format", () => {
    const seen = new Set<string>();
    const visit = (schema: z.ZodType, path: readonly string[]): void => {
      for (const shape of sections(schema, true)) {
        for (const [key, field] of Object.entries(shape)) {
          for (const wrong of WRONG) {
            const read = field.safeParse(wrong);
            if (read.success) continue;
            const input = { [key]: wrong };
            for (const { problem } of complaintsOf(read.error.issues, [key], input, z.strictObject({ [key]: field }))) {
              expect(`${[...path, key].join(".")}: ${problem}`).not.toMatch(RAW);
              seen.add(problem);
            }
          }
          visit(field, [...path, key]);
        }
      }
    };
    visit(scenarioSchema, []);
    expect(seen.size).toBeGreaterThan(100);
  });

  test("every key has an example that the format accepts", () => {
    let keys = 0;
    const visit = (schema: z.ZodType): void => {
      for (const shape of sections(schema, true)) {
        for (const [key, field] of Object.entries(shape)) {
          const example = (parse(`{ x: ${exampleOf(field)} }`) as { x: unknown }).x;
          const read = field.safeParse(example);
          expect(read.success ? "" : `${key}: ${exampleOf(field)}: ${read.error.message}`).toBe("");
          keys++;
          visit(field);
        }
      }
    };
    visit(scenarioSchema);
    expect(keys).toBeGreaterThan(250);
  });

  test("are quick and short for twenty thousand unknown keys, and for a key and a value of a hundred thousand letters", () => {
    const started = process.cpuUsage();
    const many = messages(`${SHORT}${Array.from({ length: 20_000 }, (_, i) => `unknown${i}: 1\n`).join("")}`);
    expect(many).toContain("and 19950 more");
    expect(many.length).toBeLessThan(40_000);
    const long = "y".repeat(100_000);
    const one = messages(`${SHORT.replace("name: Short", `name: ${long}`).replace("2000 L/h", long)}seed: ${long}\n${long}: 1\n`);
    expect(one.length).toBeLessThan(4000);
    // Seconds of processor: 0.3, and 26 before the change.
    expect(process.cpuUsage(started).user / 1e6).toBeLessThan(5);
  });
});

describe("a single entry in place of a list", () => {
  test("a single nozzle, branch, group, baffle or piece of equipment needs no brackets, and errors in it have their place", () => {
    const one = `${SHORT.replace("outlet: 3 cm", "nozzles: { depth: 3 cm, hole: none }, branches: { name: reactor, bore: 8 mm, outlet: 30 cm }")}stock: { name: tetras, count: 10, mass: 2 g }\n`;
    const loaded = loadScenario(one, "x.yaml");
    if (!loaded.ok) throw new Error(messages(one));
    expect(
      [loaded.scenario.return.nozzles, loaded.scenario.return.branches, loaded.scenario.stock].map((x) => x?.length),
    ).toEqual([1, 1, 1]);
    expect(messages(one.replace("nozzles: {", "nozzles: { tank: tnak,"))).toContain("x.yaml:5:44 return.nozzles[1].tank:");
  });
});

describe("defaults and warnings", () => {
  test("defaults have key, value and reason; given values are not among them", () => {
    const loaded = loadScenario(SHORT, "x.yaml");
    if (!loaded.ok) throw new Error(messages(SHORT));
    for (const d of loaded.defaults) {
      expect(d.why).not.toBe("");
      expect(d.value).not.toMatch(/undefined|\[object/);
    }
    const keys = loaded.defaults.map((d) => d.key);
    expect(keys).toContain("water.temperature");
    expect(keys).toContain("return.pump.intake");
    expect(keys).not.toContain("return.outlet");
    expect(new Set(keys).size).toBe(keys.length);
  });

  test("parts that do not exist have no defaults", () => {
    const loaded = loadScenario(SHORT, "x.yaml");
    if (!loaded.ok) throw new Error(messages(SHORT));
    expect(loaded.defaults.filter((d) => /siphon|check valve leak/.test(d.key))).toEqual([]);
    const hung = loadScenario(SHORT.replace("50 cm }", "50 cm, overflow: { kind: hang-on } }"), "x.yaml");
    if (!hung.ok) throw new Error("refused");
    expect(hung.defaults.map((d) => d.key)).toContain("tank.overflow.siphon.length");
  });

  test("an unusual value is a warning, an impossible one an error", () => {
    const warm = loadScenario(`${SHORT}water: { temperature: 33 C }\n`, "x.yaml");
    if (!warm.ok) throw new Error("refused");
    expect(warm.warnings).toEqual(["water.temperature: 33 C is unusual (usual: 16 C to 30 C)"]);
    expect(messages(`${SHORT}water: { temperature: 93 C }\n`)).toMatch(/outside the possible range, 2 C to 38 C/);
  });
});

describe("suggestions", () => {
  /** Damerau 1964: one insertion, deletion, substitution or transposition of neighbours counts as one edit. */
  test.each([
    ["water", "water", 0],
    ["wtaer", "water", 1],
    ["watr", "water", 1],
    ["waterr", "water", 1],
    ["wader", "water", 1],
    ["", "abc", 3],
    ["kitten", "sitting", 3],
  ])("%s to %s takes %i slips", (a, b, n) => {
    expect(editDistance(a, b)).toBe(n);
    expect(editDistance(b, a)).toBe(n);
  });

  test("distant words are not suggested", () => {
    expect(nearest("tempreature", ["temperature", "humidity"])).toBe("temperature");
    expect(nearest("chairs", ["temperature", "humidity"])).toBeNull();
    expect(nearest("x".repeat(100_000), ["temperature"])).toBeNull();
  });
});
