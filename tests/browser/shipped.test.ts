// Every shipped scenario as a page: no console message, no label cut or covered, no text too small, no violation found by
// axe, and a summary of one sheet.
import { mkdirSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { AxeBuilder } from "@axe-core/playwright";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { pageScripts } from "../../viz/assets.ts";
import { renderPage } from "../../viz/report.ts";
import { shipped, shippedResult } from "../shipped-results.ts";
import { launchChromium } from "./chromium.ts";
import { openFile } from "./pages.ts";
import { pdfPages } from "./pdf.ts";

const at = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const pages = at(".cache/shipped-pages");

/** Page of a shipped scenario with everything in it. */
async function pageOf(name: string): Promise<string> {
  const { page, ...carried } = pageScripts();
  const path = join(pages, `${basename(name, ".yaml")}.html`);
  writeFileSync(path, renderPage([await shippedResult(name)], page, carried));
  return path;
}

/** Labels of the drawing that leave its sheet or overlap each other noticeably. */
function badLabels(page: Page): Promise<readonly string[]> {
  return page.evaluate(() => {
    const svg = document.querySelector<SVGSVGElement>("[data-figure=cutaway] svg")!;
    const sheet = svg.getBoundingClientRect();
    const texts = [...svg.querySelectorAll("text")]
      .filter((t) => t.textContent?.trim() && t.checkVisibility({ visibilityProperty: true }))
      .map((t) => ({ words: t.textContent!.trim(), box: t.getBoundingClientRect() }));
    const cut = texts.filter(
      ({ box }) =>
        box.left < sheet.left - 0.5 ||
        box.right > sheet.right + 0.5 ||
        box.top < sheet.top - 0.5 ||
        box.bottom > sheet.bottom + 0.5,
    );
    const hair = 3;
    const covered = texts.flatMap((a, i) =>
      texts.slice(i + 1).flatMap((b) => {
        const wide = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
        const high = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
        return wide > hair && high > hair ? [`${a.words} covers ${b.words}`] : [];
      }),
    );
    return [...cut.map(({ words }) => `${words} is cut`), ...covered];
  });
}

/** Text in charts and drawing smaller than 12 CSS pixels. */
function smallWords(page: Page): Promise<readonly string[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll("main svg.cutaway text, main svg.chart text, main svg.small text")].flatMap((text) => {
      if (!text.checkVisibility({ visibilityProperty: true }) || !text.textContent?.trim()) return [];
      const svg = text.closest<SVGSVGElement>("svg")!;
      const size =
        Number.parseFloat(getComputedStyle(text).fontSize) * (svg.getBoundingClientRect().width / svg.viewBox.baseVal.width);
      return size < 11.9 ? [`${size.toFixed(1)} px: ${text.textContent}`] : [];
    }),
  );
}

async function hoverCharts(page: Page): Promise<void> {
  for (const chart of await page.locator("#curves svg.panel, #drivers svg.panel").all()) {
    await chart.scrollIntoViewIfNeeded();
    const box = (await chart.boundingBox())!;
    for (const share of [0.1, 0.4, 0.7, 0.85]) await page.mouse.move(box.x + box.width * share, box.y + box.height / 2);
  }
}

/** Violations found by axe, in short form, without the elements inside drawings, which axe does not check. */
async function violations(page: Page, rules?: readonly string[]): Promise<readonly string[]> {
  const builder = new AxeBuilder({ page }).exclude("svg > *");
  const found = await (rules
    ? builder.withRules([...rules])
    : builder.withTags(["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"])
  ).analyze();
  return found.violations.map((v) => `${v.id}: ${v.nodes[0]?.target.join(" ")}`);
}

/** Number of pages of the summary for each paper size, printed from the dialog of the page. */
async function summaryPages(page: Page): Promise<Readonly<Record<string, number>>> {
  const pages: Record<string, number> = {};
  // The test browser prints to a file on command, not at the request of the page.
  await page.evaluate(() => Object.assign(window, { print: () => undefined }));
  for (const format of ["A4", "Letter"]) {
    await page.locator("#print").click();
    await page.locator("#print-form button[value=summary]").click();
    await page.waitForTimeout(50);
    pages[format] = await pdfPages(await page.pdf({ format }));
  }
  return pages;
}

describe("every shipped scenario as a page", () => {
  let browser: Browser;
  beforeAll(async () => {
    mkdirSync(pages, { recursive: true });
    browser = await launchChromium();
  });
  afterAll(() => browser.close());

  it.each(shipped)(
    "%s",
    async (name) => {
      const { page, complaints } = await openFile(browser, await pageOf(name));
      await page.waitForTimeout(300);
      expect(await badLabels(page), "labels of the drawing").toEqual([]);
      await page.locator("#drivers summary").first().click();
      expect(await smallWords(page), "small words").toEqual([]);
      await hoverCharts(page);
      for (const id of ["outage", "figures", "sheet-card"]) {
        const fold = page.locator(`#${id} summary`).first();
        if ((await fold.count()) > 0) await fold.click();
      }
      expect(await violations(page), "axe, light").toEqual([]);
      await page.emulateMedia({ colorScheme: "dark" });
      expect(await violations(page, ["color-contrast"]), "axe, dark").toEqual([]);
      await page.setViewportSize({ width: 390, height: 844 });
      // Redrawing takes a moment.
      await expect.poll(() => smallWords(page), { message: "small words on a phone", timeout: 10_000 }).toEqual([]);
      await expect.poll(() => badLabels(page), { message: "labels of the drawing on a phone", timeout: 5000 }).toEqual([]);
      await page.setViewportSize({ width: 1280, height: 900 });
      expect(await summaryPages(page), "pages of the summary").toEqual({ A4: 1, Letter: 1 });
      expect(complaints).toEqual([]);
      await page.context().close();
    },
    120_000,
  );
});
