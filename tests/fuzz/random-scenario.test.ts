// The generator of random scenarios: mostly valid, reproducible for a seed, and covering every key and word of the format.
import { expect, test } from "vitest";
import { loadScenario } from "../../scenarios/load/load.ts";
import { scenarioJsonSchema } from "../../scenarios/schema/json-schema.ts";
import fc from "../fast-check.ts";
import { drawOf } from "./draw.ts";
import { anyScenario, randomScenario } from "./random-scenario.ts";

interface Node {
  readonly properties?: Readonly<Record<string, Node>>;
  readonly items?: Node;
  readonly anyOf?: readonly Node[];
  readonly oneOf?: readonly Node[];
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
}

/** Every `path` and `path=word` of the published format. */
function* known(node: Node, path: string): Generator<string> {
  for (const [key, inner] of Object.entries(node.properties ?? {})) {
    const at = path === "" ? key : `${path}.${key}`;
    yield at;
    yield* known(inner, at);
  }
  for (const word of [...(node.enum ?? []), ...(node.const === undefined ? [] : [node.const])]) yield `${path}=${String(word)}`;
  for (const inner of [node.items, ...(node.anyOf ?? []), ...(node.oneOf ?? [])]) if (inner) yield* known(inner, path);
}

function* used(value: unknown, path: string): Generator<string> {
  if (Array.isArray(value)) for (const item of value) yield* used(item, path);
  else if (typeof value === "object" && value !== null)
    for (const [key, inner] of Object.entries(value)) {
      const at = path === "" ? key : `${path}.${key}`;
      yield at;
      yield* used(inner, at);
    }
  else yield `${path}=${String(value)}`;
}

test("every key and every word of the format is drawn", () => {
  const missing = new Set(known(scenarioJsonSchema() as Node, ""));
  for (let i = 0; i < 4000 && missing.size > 0; i++)
    for (const path of used(randomScenario(drawOf("coverage", i)).scenario, "")) missing.delete(path);
  expect([...missing]).toEqual([]);
});

test("most random scenarios are valid, and the same seed gives the same file", () => {
  const texts = Array.from({ length: 200 }, (_, i) => randomScenario(drawOf("valid", i)).text);
  const valid = texts.filter((text) => loadScenario(text, "random.yaml").ok).length;
  expect(valid).toBeGreaterThan(170);
  expect(randomScenario(drawOf("valid", 7)).text).toBe(texts[7]);
});

test("a random scenario is loaded, or refused with a place", () => {
  fc.assert(
    fc.property(anyScenario(), ({ text }) => {
      const loaded = loadScenario(text, "random.yaml");
      if (!loaded.ok) for (const error of loaded.errors) expect(error.line).toBeGreaterThan(1);
    }),
    { numRuns: 100 },
  );
});
