// Readings typed into the page: the forecast that follows from them, in the worker of the page.
import { describe, expect, it } from "vitest";
import { browserAndPages } from "./setup.ts";

const { open } = browserAndPages();

type Page = Awaited<ReturnType<typeof open>>["page"];

async function type(page: Page, readings: readonly (readonly [day: number, what: string, value: number])[]): Promise<void> {
  await page.locator(".own-readings summary").click();
  for (const [day, what, value] of readings) {
    await page.locator("#readings [name=day]").fill(String(day));
    await page.locator("#readings [name=what]").selectOption(what);
    await page.locator("#readings [name=value]").fill(String(value));
    await page.locator("#readings button[type=submit]").click();
  }
}
const answered = (page: Page) =>
  page.waitForFunction(() => document.querySelector("#readings-learned .trust") !== null, null, { timeout: 90_000 });

describe("what typed readings say (some 30 seconds)", () => {
  it("is told before and after them, while the page goes on answering; a new reading takes it away", async () => {
    const { page, complaints, requests } = await open("first");
    await type(page, [
      [4, "tan", 2],
      [8, "tan", 2],
      [12, "no2", 0.5],
    ]);
    await page.locator("#readings-learn").click();
    await page.waitForFunction(() => / of at most /.test(document.querySelector("#readings-learned")?.textContent ?? ""), null, {
      timeout: 60_000,
    });
    expect(await page.locator("#readings-learn").textContent()).toBe("Stop");
    // The page is not blocked: it zooms while the worker runs.
    await page.locator("[data-zoom=in]").click();
    await answered(page);
    const said = (await page.locator("#readings-learned").textContent())!;
    expect(said).toMatch(/Forecast\. The readings fit|No forecast\. No claim/);
    if (said.startsWith("Forecast.")) {
      expect(said).toContain("Before the readings");
      expect(await page.locator("#readings-learned .milestones .after").count()).toBeGreaterThan(2);
      expect(await page.locator("#readings-learned .milestones .before").count()).toBeGreaterThan(2);
    }
    expect(await page.locator("#readings-learn").textContent()).toBe("What do they say?");
    await page.locator("#readings button[type=submit]").click();
    expect(await page.locator("#readings-learned").textContent()).toBe("");
    expect(complaints).toEqual([]);
    expect(requests).toEqual([]);
    await page.context().close();
  }, 180_000);

  it("is no forecast where no run gives such readings", async () => {
    const { page, complaints } = await open("first");
    await type(
      page,
      [2, 6, 10, 14, 18, 22].flatMap((day) => [[day, "tan", 8] as const, [day, "no2", 5] as const]),
    );
    await page.locator("#readings-learn").click();
    await answered(page);
    expect(await page.locator("#readings-learned .trust").textContent()).toMatch(/^No forecast\. /);
    expect(await page.locator("#readings-learned .milestones").count()).toBe(0);
    expect(complaints).toEqual([]);
    await page.context().close();
  }, 180_000);
});
