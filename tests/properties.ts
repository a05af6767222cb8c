// Runs all property tests again and again with fresh random seeds, and prints the seeds with which one failed.
// npm run properties -- --minutes 10 [--seed FIRST] [FILES...]
import { spawnSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";

const project = dirname(dirname(fileURLToPath(import.meta.url)));
const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    minutes: { type: "string", default: "5" },
    seed: { type: "string", default: `${Math.floor(Math.random() * 2 ** 31)}` },
  },
});

const withProperties = readdirSync(join(project, "tests"), { recursive: true, encoding: "utf8" })
  .filter((name) => name.endsWith(".test.ts") && readFileSync(join(project, "tests", name), "utf8").includes("fc.assert("))
  .map((name) => join("tests", name));
const files = positionals.length > 0 ? positionals : withProperties;
const until = Date.now() + Number(values.minutes) * 60_000;
const failed: number[] = [];
let runs = 0;
for (let seed = Number(values.seed); Date.now() < until; seed++, runs++) {
  const vitest = ["node_modules/vitest/vitest.mjs", "run", "--config", "tests/vitest.config.ts", "--reporter", "dot", ...files];
  const { status, stdout, stderr } = spawnSync(process.execPath, vitest, {
    cwd: project,
    encoding: "utf8",
    env: { ...process.env, PROPERTY_SEED: `${seed}` },
  });
  if (status === 0) continue;
  failed.push(seed);
  process.stdout.write(`PROPERTY_SEED=${seed}\n${stdout}${stderr}\n`);
}
console.log(
  `${files.length} files, ${runs} seeds from ${values.seed} on: ${failed.length === 0 ? "none failed" : `failed with ${failed.join(", ")}`}`,
);
process.exitCode = failed.length === 0 ? 0 : 1;
