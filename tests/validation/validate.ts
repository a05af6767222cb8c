// `npm run validate`: runs the tests that compare the models with data from outside, and writes one page from what they compared.
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Course, Pair } from "./compared.ts";
import { type Failure, page } from "./page.ts";

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
const REVISED = new URL("../models/nitrogen/acceptance-figures.md", import.meta.url);
const OUTPUT = new URL("../../viz/pictures/validation.html", import.meta.url);

const folder = mkdtempSync(join(tmpdir(), "sumpwright-validation-"));
try {
  const file = join(folder, "compared.jsonl");
  writeFileSync(file, "");
  console.info("running the tests that hold the models against data from outside: two to five minutes of processor");
  const report = join(folder, "report.json");
  const reporters = ["--reporter=dot", "--reporter=json", `--outputFile=${report}`];
  const vitest = ["node_modules/vitest/vitest.mjs", "run", "--config", "tests/vitest.config.ts", ...reporters, ...FILES];
  const { status } = spawnSync(process.execPath, vitest, {
    stdio: ["ignore", "ignore", "inherit"],
    env: { ...process.env, VALIDATION_FILE: file },
  });
  const records = readFileSync(file, "utf8")
    .split("\n")
    .filter((line) => line !== "")
    .map((line) => JSON.parse(line) as { pair?: Pair; course?: Course; scenario?: string; figures?: Record<string, number> });
  const pairs = records.flatMap(({ pair }) => (pair ? [pair] : []));
  const courses = records.flatMap(({ course }) => (course ? [course] : []));
  const figures = new Map(records.flatMap(({ scenario, figures: of }) => (scenario && of ? [[scenario, of] as const] : [])));
  const { tests, failures } = verdictsOf(readFileSync(report, "utf8"));
  for (const { test, message } of failures) console.info(`failed: ${test}\n  ${message}`);
  const html = page({ pairs, courses, figures, tests, failures, revised: readFileSync(REVISED, "utf8") });
  writeFileSync(OUTPUT, html);
  console.info(
    `${pairs.length} numbers and ${courses.length} courses compared; viz/pictures/validation.html, ${Math.round(html.length / 1024)} KB`,
  );
  process.exitCode = status === 0 ? 0 : 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}

/** The number of tests of a report of the test runner, and those that failed, each with the first line of its message. */
function verdictsOf(json: string): { readonly tests: number; readonly failures: readonly Failure[] } {
  const { numTotalTests, testResults } = JSON.parse(json) as {
    numTotalTests: number;
    testResults: { name: string; status: string; message: string; assertionResults: Assertion[] }[];
  };
  const failures = testResults.flatMap(({ name, status, message, assertionResults }) => {
    const failed = assertionResults.filter((one) => one.status === "failed");
    if (failed.length === 0 && status === "failed")
      return [{ test: name.replace(/.*\/tests\//, "tests/"), message: firstLine(message) }];
    return failed.map(({ fullName, failureMessages }) => ({ test: fullName, message: firstLine(failureMessages[0] ?? "") }));
  });
  return { tests: numTotalTests, failures };
}

interface Assertion {
  readonly status: string;
  readonly fullName: string;
  readonly failureMessages: readonly string[];
}

function firstLine(text: string): string {
  return text.split("\n")[0];
}
