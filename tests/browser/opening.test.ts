// Opening the page: from disk, without network, without script, with hostile text.

import { statSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { HOSTILE } from "./pages.ts";
import { browserAndPages } from "./setup.ts";

const { open, pages } = browserAndPages();

describe("opened from disk without network", () => {
  it("sends no request, logs nothing, and is smaller than a megabyte", async () => {
    const { page, complaints, requests } = await open("first");
    await page.locator("#play").click();
    await page.waitForTimeout(300);
    expect(complaints).toEqual([]);
    expect(requests).toEqual([]);
    expect(statSync(pages().first).size).toBeLessThanOrEqual(1_000_000);
    await page.context().close();
  });

  it("shows answer, drawing and all sections without any script", async () => {
    const { page } = await open("first", { javaScriptEnabled: false });
    const first = page.locator(".lead-answer").first();
    expect(await first.isVisible()).toBe(true);
    const order = await page.locator("main > [id]").evaluateAll((list) => list.map((s) => s.id));
    expect(order.filter((id) => id !== "try")).toEqual([
      "answer",
      "tools",
      "drawing",
      "curves",
      "drivers",
      "faults",
      "outage",
      "figures",
      "sheets",
      "method",
      "glossary",
      "cautions",
    ]);
    for (const id of ["faults", "method", "sheet-card", "glossary", "cautions"])
      expect((await page.locator(`#${id} .fold-contents`).textContent())!.length, id).toBeGreaterThan(100);
    expect(await page.locator("svg.cutaway").count()).toBe(2);
    expect(await page.locator("svg.cutaway").first().isVisible()).toBe(true);
    expect(await page.locator("svg.cutaway").last().isVisible()).toBe(true);
    expect(await page.locator("#play").isVisible()).toBe(false);
    await page.context().close();
  });

  it("begins with the answer: every main question on the first screen of a phone, with a number, and never calls anything safe", async () => {
    const { page } = await open("first", { viewport: { width: 390, height: 844 }, hasTouch: true });
    const leads = page.locator("#answer .lead-answer");
    const { lead, groups } = pages().result.answer;
    expect(await leads.count()).toBe(lead.length);
    const bottoms = await leads.evaluateAll((list) => list.map((li) => li.getBoundingClientRect().bottom));
    expect(Math.max(...bottoms)).toBeLessThanOrEqual(844);
    for (const text of await leads.allTextContents()) expect(text).toMatch(/\d/);
    for (const key of ["doNow", "watch", "know"] as const) {
      const count = await page.locator(`[data-group=${key}] .verdicts > li`).count();
      expect(count, key).toBe(groups[key].length);
    }
    expect((await page.locator("h1, main").allTextContents()).join(" ")).not.toMatch(/\bsafe\b/i);
    await page.context().close();
  });

  it("opens the part named in the address", async () => {
    const { page, complaints } = await open("first");
    for (const id of ["sheet-card", "term-weir", "assumptions"]) {
      await page.evaluate((hash) => {
        location.hash = hash;
      }, id);
      await page.locator(`#${id}`).waitFor({ state: "visible" });
      await page.waitForFunction((name) => {
        const { top } = document.getElementById(name)!.getBoundingClientRect();
        return top < innerHeight;
      }, id);
    }
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});

describe("text of a file is never markup", () => {
  it.each([["alone"], ["compared"]] as const)("hostile names, notes and labels are shown as they are: %s", async (which) => {
    const { page, complaints } = await open(which === "alone" ? "hostile" : "compared");
    expect(await page.evaluate(() => "owned" in globalThis)).toBe(false);
    expect(await page.locator("img,iframe,b[onclick],svg[onload],main script").count()).toBe(0);
    expect((await page.locator("h1, main").allTextContents()).join(" ")).toContain(HOSTILE);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});
