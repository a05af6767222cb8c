// `npm run validate`: runs the tests that compare the models with data from outside, and writes one page from what they compared.
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Course, Pair } from "./compared.ts";
import { page } from "./page.ts";

/** Tests with data from outside. */
const FILES = [
  "tests/data",
  "tests/models/water",
  "tests/models/gas",
  "tests/models/heat/heat.test.ts",
  "tests/models/life",
  "tests/models/tower",
  "tests/sim/integrators/problems.test.ts",
  "tests/models/hydraulics/reference.test.ts",
  "tests/models/hydraulics/epanet.test.ts",
  "tests/models/nitrogen/film.test.ts",
  "tests/models/nitrogen/organics.test.ts",
  "tests/models/nitrogen/literature.test.ts",
  "tests/models/nitrogen/practice-cycling.test.ts",
  "tests/models/nitrogen/practice-shocks.test.ts",
  "tests/models/nitrogen/practice-tower.test.ts",
  "tests/models/outage/story.test.ts",
];
const OUTPUT = new URL("../../viz/pictures/validation.html", import.meta.url);

const folder = mkdtempSync(join(tmpdir(), "sumpwright-validation-"));
try {
  const file = join(folder, "compared.jsonl");
  writeFileSync(file, "");
  console.info("running the tests that hold the models against data from outside: two to five minutes of processor");
  const vitest = ["node_modules/vitest/vitest.mjs", "run", "--config", "tests/vitest.config.ts", "--reporter=dot", ...FILES];
  const { status } = spawnSync(process.execPath, vitest, {
    stdio: ["ignore", "ignore", "inherit"],
    env: { ...process.env, VALIDATION_FILE: file },
  });
  if (status !== 0) console.info("some of these tests fail: the page shows what they compared all the same");
  const records = readFileSync(file, "utf8")
    .split("\n")
    .filter((line) => line !== "")
    .map((line) => JSON.parse(line) as { pair?: Pair; course?: Course; scenario?: string; figures?: Record<string, number> });
  const pairs = records.flatMap(({ pair }) => (pair ? [pair] : []));
  const courses = records.flatMap(({ course }) => (course ? [course] : []));
  const figures = new Map(records.flatMap(({ scenario, figures: of }) => (scenario && of ? [[scenario, of] as const] : [])));
  const html = page(pairs, courses, figures);
  writeFileSync(OUTPUT, html);
  console.info(
    `${pairs.length} numbers and ${courses.length} courses compared; viz/pictures/validation.html, ${Math.round(html.length / 1024)} KB`,
  );
  process.exitCode = status === 0 ? 0 : 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
