// Charts: reading by keyboard, guesses in a lesson, the reader's own readings.
import { describe, expect, it } from "vitest";
import { browserAndPages, plainly, saved, textOf } from "./setup.ts";

const { open } = browserAndPages();

describe("charts", () => {
  it("shows all values of a day with the arrow keys alone, on a card inside the window", async () => {
    const { page, complaints } = await open("first");
    await page.locator("#curves [data-stack]").focus();
    for (let i = 0; i < 5; i++) await page.keyboard.press("ArrowRight");
    const readout = plainly(await page.locator("#curves [data-readout]").textContent());
    expect(readout).toMatch(/Day 4/);
    for (const name of ["Ammonia", "Nitrite", "Nitrate"]) expect(readout).toContain(name);
    const card = (await page.locator("#read-out").boundingBox())!;
    expect(card.y).toBeGreaterThanOrEqual(0);
    expect(card.y + card.height).toBeLessThanOrEqual(900);
    const lines = await page.locator(".panel .cursor").evaluateAll((list) => list.map((l) => l.getBoundingClientRect().left));
    expect(lines.length).toBe(3);
    expect(Math.max(...lines) - Math.min(...lines)).toBeLessThan(0.5);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("shows the values beside the pointer, also in the charts of what drives nitrogen", async () => {
    const { page, complaints } = await open("first");
    await page.locator("#drivers summary").first().click();
    for (const stack of ["#curves", "#drivers"]) {
      const chart = page.locator(`${stack} svg.panel`).last();
      await chart.scrollIntoViewIfNeeded();
      const box = (await chart.boundingBox())!;
      for (const share of [0.1, 0.5, 0.8]) {
        const [x, y] = [box.x + box.width * share, box.y + box.height / 2];
        await page.mouse.move(x, y);
        const card = (await page.locator("#read-out").boundingBox())!;
        expect(Math.min(Math.abs(card.x - x), Math.abs(card.x + card.width - x))).toBeLessThan(30);
        expect(card.x + card.width).toBeLessThanOrEqual(1280);
        expect(card.y + card.height).toBeLessThanOrEqual(900);
      }
    }
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("zooms with keys and buttons, and returns to all days", async () => {
    const { page } = await open("first");
    const days = (): Promise<readonly string[]> =>
      page.locator("#curves svg[data-panel=no3] .axis text[text-anchor=middle]").allTextContents();
    const all = await days();
    await page.locator("[data-zoom=in]").click();
    await page.locator("#curves [data-stack]").focus();
    await page.keyboard.press("+");
    await expect.poll(days).not.toEqual(all);
    await page.keyboard.press("0");
    await expect.poll(days).toEqual(all);
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

  it("in a comparison the guess is measured against each scenario by its name, and nothing gives the answer away before", async () => {
    const { page } = await open("compared");
    await page.locator("#lesson").click();
    const hidden = (selector: string): Promise<boolean> =>
      page
        .locator(selector)
        .first()
        .evaluate((e) => getComputedStyle(e).visibility === "hidden" || getComputedStyle(e).filter.includes("blur"));
    for (const selector of ["#compare", "#answer .text", '[data-figure="panel:no2"] .answer'])
      expect(await hidden(selector), selector).toBe(true);
    await page.locator("#lesson-panel summary").click();
    for (const point of [0, 4, 8]) await page.locator(`[data-guess=no2][data-point="${point}"]`).fill("0.1");
    await page.locator("#lesson-reveal").click();
    expect(plainly(await page.locator("#lesson-panel").textContent())).toMatch(
      /Nitrite: on average \d+ %.*from “.+”, on average \d+ %.*from “.+”\./,
    );
    expect(await hidden("#compare")).toBe(false);
    await page.context().close();
  });

  it("draws the reader's own readings with the width of the kit's steps, keeps them, and saves them in the file", async () => {
    const { page } = await open("first");
    await page.locator(".own-readings > summary").click();
    await page.locator("#readings input[name=day]").fill("10");
    await page.locator("#readings input[name=value]").fill("2");
    await page.locator("#readings button[type=submit]").click();
    expect(await page.locator('[data-figure="panel:tan"] .reading-mark').count()).toBe(1);
    const file = await textOf(await saved(page, "#readings-save"));
    expect(file).toMatch(/readings:\s+- at: day 10\s+ammonia: 2/);
    await page.reload();
    await page.waitForSelector("html.alive");
    await page.locator('[data-figure="panel:tan"] .reading-mark').waitFor({ state: "attached" });
    await page.context().close();
  });
});
