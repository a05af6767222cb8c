// Prints a hash of the result of every shipped scenario, for a comparison before and after a change that must not
// affect any number. With two folders, it prints where the results in them differ.
//   npm run hashes                 hashes, without bands and faults
//   npm run hashes -- --out DIR    the results themselves, one JSON file each
//   npm run hashes -- DIR DIR      the differences between two such folders
import { createHash } from "node:crypto";
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { errorText, loadScenario } from "../../scenarios/load/load.ts";
import { runScenario } from "../../scenarios/run/run.ts";

const shipped = new URL("../../scenarios/shipped/", import.meta.url);

async function results(out: string | undefined): Promise<void> {
  if (out) mkdirSync(out, { recursive: true });
  for (const file of readdirSync(shipped).filter((name) => name.endsWith(".yaml"))) {
    const source = readFileSync(new URL(file, shipped), "utf8");
    const loaded = loadScenario(source, file);
    if (!loaded.ok) throw new Error(loaded.errors.map(errorText).join("\n"));
    const text = JSON.stringify(
      await runScenario({ ...loaded, source, file }, { seed: "1", members: 0, matrix: false }),
      null,
      1,
    );
    console.info(`${createHash("sha256").update(text).digest("hex").slice(0, 16)}  ${file}`);
    if (out) writeFileSync(join(out, file.replace(/\.yaml$/, ".json")), text);
  }
}

type Difference = readonly [path: string, before: unknown, after: unknown];

function differences(before: unknown, after: unknown, path = ""): Difference[] {
  if (Object.is(before, after)) return [];
  if (before === null || after === null || typeof before !== "object" || typeof after !== "object")
    return [[path, before, after]];
  const [a, b] = [before, after] as Record<string, unknown>[];
  return [...new Set([...Object.keys(a), ...Object.keys(b)])].flatMap((key) => differences(a[key], b[key], `${path}.${key}`));
}

function compare(before: string, after: string): void {
  const short = (value: unknown): string => (JSON.stringify(value) ?? "nothing").slice(0, 140);
  for (const file of readdirSync(before)) {
    const [a, b] = [before, after].map((folder) => JSON.parse(readFileSync(join(folder, file), "utf8")));
    const all = differences(a, b);
    console.info(`${all.length === 0 ? "same" : `${all.length} differ`}  ${file}`);
    const kinds = new Map(all.map((difference) => [difference[0].replace(/\.\d+/g, ".#"), difference]));
    for (const [path, x, y] of kinds.values()) console.info(`    ${path.slice(1)}: ${short(x)} -> ${short(y)}`);
  }
}

const [first, second] = process.argv.slice(2);
if (first && first !== "--out" && second) compare(first, second);
else await results(first === "--out" ? second : undefined);
