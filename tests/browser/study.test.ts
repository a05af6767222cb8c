// The page of a study in a real browser: accessibility, phone, dark mode, paper.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { AxeBuilder } from "@axe-core/playwright";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { columnsOf } from "../../scenarios/study/columns.ts";
import { loadStudy } from "../../scenarios/study/load.ts";
import { Summary } from "../../scenarios/study/summary.ts";
import { renderStudy } from "../../viz/study-page.ts";
import { projectFile } from "../scenarios/study/processes.ts";
import { launchChromium } from "./chromium.ts";

const studies = projectFile("scenarios/studies");
let browser: Browser;
let folder: string;
let address: string;

/** Page of a shipped study with invented outcomes, because the tests check the page and not the model. */
function page(): string {
  const loaded = loadStudy(readFileSync(join(studies, "run-in-180.yaml"), "utf8"), "run-in-180.yaml", (path) =>
    readFileSync(join(studies, path), "utf8"),
  );
  if (!loaded.ok) throw new Error(loaded.errors[0].problem);
  const { study } = loaded;
  const found = columnsOf(study);
  if ("errors" in found) throw new Error(found.errors[0].problem);
  const summary = new Summary(study, found.columns);
  for (let i = 0; i < study.points; i++) {
    const { inputs } = study.point(i);
    const [, temperature, , , kh] = inputs;
    if (i === 100) summary.add(i, inputs, { failure: "tower.depth: more than the sump holds" });
    else
      summary.add(
        i,
        inputs,
        Float64Array.from(found.columns, ({ labels, from }) =>
          labels
            ? 0
            : from.is === "fault" && from.part === "floor"
              ? 0
              : 100 - 2 * temperature + kh + (i % 64 === 0 ? Number.NaN : 0),
        ),
      );
  }
  return renderStudy({
    summary: summary.finish(),
    program: "sumpwright 0.1.0",
    id: "0123456789abcdef",
    pages: new Map([[447, "run-in-180-points/point-447.html"]]),
    files: ["run-in-180.parquet", "run-in-180.csv"],
  });
}

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "sumpwright-study-page-"));
  const file = join(folder, "study.html");
  writeFileSync(file, page());
  address = pathToFileURL(file).href;
  browser = await launchChromium();
}, 120_000);
afterAll(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true, force: true });
});

describe("the page of a study", () => {
  const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
  const looks = [
    ["light", {}, "screen"],
    ["dark", { colorScheme: "dark" }, "screen"],
    ["phone", { viewport: { width: 390, height: 844 }, hasTouch: true }, "screen"],
    ["print", {}, "print"],
  ] as const;
  test.each(looks)(
    "has no violation of WCAG 2.2 AA found by axe, and never scrolls horizontally: %s",
    async (_, options, media) => {
      const context = await browser.newContext(options);
      const tab = await context.newPage();
      const complaints: string[] = [];
      tab.on("console", (message) => complaints.push(message.text()));
      await tab.emulateMedia({ media });
      await tab.goto(address);
      const { violations } = await new AxeBuilder({ page: tab }).withTags(tags).analyze();
      expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.target.join(" ")}`)).toEqual([]);
      const [wide, room] = await tab.evaluate(() => [document.documentElement.scrollWidth, document.documentElement.clientWidth]);
      expect(wide).toBeLessThanOrEqual(room!);
      expect(complaints).toEqual([]);
      await context.close();
    },
    120_000,
  );

  test("begins with the answer, names the decisive input, shows the ten best and worst, and links to pages of points", async () => {
    const tab = await browser.newPage();
    await tab.goto(address);
    const text = ((await tab.locator("main").textContent()) ?? "").replaceAll("\u00a0", " ");
    expect(text).toMatch(/Over 448 points, ready \(day\) lies between/);
    expect(text).toMatch(/Water temperature explains \d+ % of the spread of ready \(day\)/);
    expect(text).toContain("1 point could not be run");
    expect(text).toContain("tower.depth: more than the sump holds");
    const tables = tab.locator(".designs table");
    expect(await tables.count()).toBe(2);
    for (const n of [0, 1]) expect(await tables.nth(n).locator("tbody tr").count()).toBe(10);
    expect(await tab.locator(".heat tbody tr").count()).toBe(8);
    expect(await tab.locator(".study-chart.wide path").count()).toBeGreaterThan(200);
    await tab.close();
  }, 60_000);
});
