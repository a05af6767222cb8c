import { readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { expect, test } from "vitest";

const project = dirname(dirname(fileURLToPath(import.meta.url)));

/** Rows of the table of terms in DEVELOPERS.md: the term, and the words that it replaces. */
function terms(): readonly { readonly term: string; readonly not: readonly string[] }[] {
  const section = readFileSync(join(project, "DEVELOPERS.md"), "utf8")
    .split(/^## /m)
    .find((part) => /^\d+\. Terms/.test(part))!;
  return [...section.matchAll(/^\| ([^|]+) \| ([^|]+) \|([^|]*)\|$/gm)].slice(1).map(([, term, , not]) => ({
    term: term!,
    not: not!
      .split(",")
      .map((word) => word.trim())
      .filter(Boolean),
  }));
}

const sources = ["sim", "models", "scenarios", "viz"].flatMap((floor) =>
  readdirSync(join(project, floor), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".ts") && !name.endsWith(".d.ts"))
    .map((name) => join(floor, name)),
);

function identifiers(file: string): Set<string> {
  const found = new Set<string>();
  const visit = (node: ts.Node): void => {
    if (ts.isIdentifier(node)) found.add(node.text);
    ts.forEachChild(node, visit);
  };
  visit(ts.createSourceFile(file, readFileSync(join(project, file), "utf8"), ts.ScriptTarget.Latest));
  return found;
}

test("the table of terms has rows, some with words that they replace", () => {
  expect(terms().length).toBeGreaterThan(10);
  expect(terms().filter(({ not }) => not.length > 0).length).toBeGreaterThan(5);
});

test("no identifier contains a word that the table of terms replaces", () => {
  // Whole words of a camel-case or upper-case name: "dirt" matches dirtNow and DIRT_LEFT, but not "adirtx".
  const wordsOf = (name: string): string =>
    name
      .replace(/([a-z0-9])([A-Z])/g, "$1 $2")
      .replaceAll("_", " ")
      .toLowerCase();
  const replaced = terms().flatMap(({ term, not }) =>
    not.map((word) => ({ term, pattern: new RegExp(`\\b${wordsOf(word)}s?\\b`) })),
  );
  const wrong = sources.flatMap((file) =>
    [...identifiers(file)].flatMap((name) =>
      replaced.filter(({ pattern }) => pattern.test(wordsOf(name))).map(({ term }) => `${file}: ${name} (the term is "${term}")`),
    ),
  );
  expect(wrong).toEqual([]);
});
