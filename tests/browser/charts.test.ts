// Charts: read with keys, guessed at in a lesson, with the reader's own readings.
import { describe, expect, it } from "vitest";
import { browserAndPages, plainly } from "./setup.ts";

const { open } = browserAndPages();

describe("charts", () => {
  it("reads out all values of a day with the arrow keys alone", async () => {
    const { page } = await open("first");
    await page.locator("[data-stack]").focus();
    for (let i = 0; i < 5; i++) await page.keyboard.press("ArrowRight");
    const readout = await page.locator("[data-readout]").textContent();
    expect(readout).toMatch(/Day 4/);
    for (const name of ["Ammonia", "Nitrite", "Nitrate", "Oxygen", "pH"]) expect(readout).toContain(name);
    const lines = await page.locator(".panel .cursor").evaluateAll((list) => list.map((l) => l.getBoundingClientRect().left));
    expect(lines.length).toBeGreaterThan(5);
    expect(Math.max(...lines) - Math.min(...lines)).toBeLessThan(0.5);
    await page.context().close();
  });

  it("hides the answer in a lesson, takes a drawn guess, and shows both", async () => {
    const { page } = await open("first");
    await page.locator("#lesson").click();
    const answer = page.locator('[data-figure="panel:tan"] .answer');
    expect(await answer.evaluate((e) => getComputedStyle(e).visibility)).toBe("hidden");
    const chart = page.locator('svg[data-panel="tan"]').first();
    await chart.scrollIntoViewIfNeeded();
    const box = (await chart.boundingBox())!;
    await page.mouse.move(box.x + 100, box.y + 60);
    await page.mouse.down();
    await page.mouse.move(box.x + 600, box.y + 120, { steps: 12 });
    await page.mouse.up();
    expect((await page.locator('[data-figure="panel:tan"] .guess').getAttribute("d"))!.split("L").length).toBeGreaterThan(4);
    await page.locator("#lesson-reveal").click();
    expect(await answer.evaluate((e) => getComputedStyle(e).visibility)).toBe("visible");
    expect(plainly(await page.locator("#lesson-panel").textContent())).toMatch(/Ammonia: on average \d+ %/);
    await page.context().close();
  });

  it("puts the reader's own readings on the chart as wide as the steps of a kit", async () => {
    const { page } = await open("first");
    await page.locator("#readings input[name=day]").fill("10");
    await page.locator("#readings input[name=value]").fill("2");
    await page.locator("#readings button[type=submit]").click();
    expect(await page.locator('[data-figure="panel:tan"] .reading-mark').count()).toBe(1);
    await page.context().close();
  });
});
