// `npm run mutants -- [--count 20] [--seed s] [--in models/heat] [--stages 1] [--explained]`: changes the numbers of the models one at a time, runs
// the tests near each in a copy of the project, quick ones first, and lists the changes that no test noticed. Without --count all of them: that takes
// days of processor. --stages ends after the first groups of tests. Numbers with a known reason (reasons.ts) are tried only with --explained.
import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import seedrandom from "seedrandom";
import { constantsOf, type Mutation, mutated, mutationsOf, testsNear } from "./mutations.ts";
import { reasonOf } from "./reasons.ts";

const { values } = parseArgs({
  options: {
    count: { type: "string" },
    seed: { type: "string", default: "1" },
    in: { type: "string", default: "models" },
    stages: { type: "string", default: "9" },
    explained: { type: "boolean", default: false },
  },
});
const root = join(dirname(fileURLToPath(import.meta.url)), "../..");
const copy = mkdtempSync(join(tmpdir(), "sumpwright-mutants-"));
process.on("SIGINT", () => process.exit(130));
process.on("exit", () => rmSync(copy, { recursive: true, force: true }));

const files = readdirSync(join(root, "models"), { recursive: true, encoding: "utf8" })
  .map((file) => `models/${file.replaceAll("\\", "/")}`)
  .filter((file) => file.endsWith(".ts") && file.startsWith(values.in))
  .sort();
const every = files.flatMap((file) => constantsOf(file, readFileSync(join(root, file), "utf8")).flatMap(mutationsOf));
const lineOf = ({ constant: { file, line } }: Mutation): string =>
  readFileSync(join(root, file), "utf8").split("\n")[line - 1].trim();
const explained = every.filter((mutation) => reasonOf(mutation.constant.file, lineOf(mutation)) !== null);
const all = values.explained ? every : every.filter((mutation) => !explained.includes(mutation));
const random = seedrandom(values.seed);
const count = values.count === undefined ? all.length : Math.min(Number(values.count), all.length);
if (!(count > 0)) throw new Error("--count takes a number above zero");
const chosen = all
  .map((mutation) => ({ mutation, order: random() }))
  .sort((a, b) => a.order - b.order)
  .slice(0, count);

for (const part of ["models", "sim", "scenarios", "tests", "viz", "package.json", "tsconfig.json"])
  cpSync(join(root, part), join(copy, part), { recursive: true, filter: (from) => !from.includes("node_modules") });
symlinkSync(join(root, "node_modules"), join(copy, "node_modules"), "junction");

/** Runs tests in the copy; a mutant that makes them hang is noticed as well. */
function passes(tests: readonly string[]): boolean {
  const vitest = [
    "node_modules/vitest/vitest.mjs",
    "run",
    "--config",
    "tests/vitest.config.ts",
    "--bail=1",
    "--reporter=dot",
    ...tests,
  ];
  return spawnSync(process.execPath, vitest, { cwd: copy, stdio: "ignore", timeout: 900_000 }).status === 0;
}

console.info(
  `${every.length} changes of the numbers under ${values.in}, ${explained.length} of them with a reason why no test should notice; ${count} are tried (seed ${values.seed})`,
);
const sound = new Map<string, boolean>();
const unnoticed: string[] = [];
let tried = 0;
for (const { mutation } of chosen) {
  const { file, line, text } = mutation.constant;
  const source = readFileSync(join(root, file), "utf8");
  let survived: boolean | null = null;
  for (const near of testsNear(file).slice(0, Number(values.stages))) {
    const key = near.join(" ");
    if (!sound.has(key)) sound.set(key, passes(near));
    if (!sound.get(key)) {
      console.info(`left out: ${key} for ${file}, since they fail without any change`);
      continue;
    }
    writeFileSync(join(copy, file), mutated(source, mutation));
    survived = passes(near);
    writeFileSync(join(copy, file), source);
    if (!survived) break;
  }
  if (survived === null) continue;
  tried++;
  const words = `${file}:${line} ${text} ${mutation.how}`;
  if (survived) unnoticed.push(`${words}   ${lineOf(mutation)}`);
  console.info(`${tried} ${survived ? "NOT NOTICED" : "noticed"}: ${words}`);
}
console.info(
  `\n${tried - unnoticed.length} of ${tried} noticed (${tried ? Math.round((100 * (tried - unnoticed.length)) / tried) : 0} %)`,
);
for (const words of unnoticed) console.info(`not noticed: ${words}`);
