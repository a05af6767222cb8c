// The page as it is opened: from disk, without network, without script, with hostile words in it.

import { statSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { ANSWERS } from "../../viz/sections/verdict.ts";
import { HOSTILE } from "./pages.ts";
import { browserAndPages } from "./setup.ts";

const { open, pages } = browserAndPages();

describe("opened from disk without network", () => {
  it("asks for nothing, complains of nothing, stays under a megabyte", async () => {
    const { page, complaints, requests } = await open("first");
    await page.locator("#play").click();
    await page.waitForTimeout(300);
    expect(complaints).toEqual([]);
    expect(requests).toEqual([]);
    expect(statSync(pages().first).size).toBeLessThanOrEqual(1_000_000);
    await page.context().close();
  });

  it("shows verdict, drawing and all sections without any script", async () => {
    const { page } = await open("first", { javaScriptEnabled: false });
    const first = page.locator(".verdicts li").first();
    expect(await first.isVisible()).toBe(true);
    expect((await first.boundingBox())!.y).toBeLessThan(900);
    const order = await page.locator("main > section").evaluateAll((list) => list.map((s) => s.id));
    expect(order.filter((id) => id !== "try")).toEqual([
      "verdict",
      "drawing",
      "curves",
      "faults",
      "figures",
      "sheets",
      "method",
      "cautions",
    ]);
    expect(await page.locator("svg.cutaway").count()).toBe(2);
    expect(await page.locator("svg.cutaway").first().isVisible()).toBe(true);
    expect(await page.locator("svg.cutaway").last().isVisible()).toBe(true);
    expect(await page.locator("#play").isVisible()).toBe(false);
    await page.context().close();
  });

  it("puts the answers first, then alarms, with a sentence that has a number, and never calls anything safe", async () => {
    const { page } = await open("first");
    const items = await page
      .locator("#verdict .verdicts li")
      .evaluateAll((list) => list.map((li) => ({ level: li.className, id: li.getAttribute("data-finding") ?? "" })));
    const answers = items.findIndex(({ id }) => !ANSWERS.includes(id));
    expect(answers).toBeGreaterThan(0);
    expect(items.slice(answers).every(({ id }) => !ANSWERS.includes(id))).toBe(true);
    const levels = items.slice(answers).map(({ level }) => level);
    const rank = levels.map((l) => ["alarm", "watch", "info"].indexOf(l));
    expect(rank).toEqual([...rank].sort((a, b) => a - b));
    expect(await page.locator("#verdict .verdicts .text").first().textContent()).toMatch(/\d/);
    expect((await page.locator("h1, main").allTextContents()).join(" ")).not.toMatch(/\bsafe\b/i);
    await page.context().close();
  });
});

describe("words of a file are never markup", () => {
  it.each([["alone"], ["compared"]] as const)("hostile names, notes and labels are shown as they are: %s", async (which) => {
    const { page, complaints } = await open(which === "alone" ? "hostile" : "compared");
    expect(await page.evaluate(() => "owned" in globalThis)).toBe(false);
    expect(await page.locator("img,iframe,b[onclick],svg[onload],main script").count()).toBe(0);
    expect((await page.locator("h1, main").allTextContents()).join(" ")).toContain(HOSTILE);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});
