// Playback of the outage in the drawing, and the reader's units in the text.

import type { Page } from "playwright-core";
import { describe, expect, it } from "vitest";
import { browserAndPages, plainly } from "./setup.ts";

const { open, pages } = browserAndPages();

const waterTop = (page: Page): Promise<string | null> => page.locator(".player [data-water] rect").last().getAttribute("y");

describe("the drawing plays the power cut", () => {
  it("runs, pauses, scrubs and steps from event to event", async () => {
    const { page } = await open("first");
    const before = Number(await page.locator("#scrub").inputValue());
    await page.locator("#play").click();
    await page.waitForTimeout(700);
    await page.locator("#play").click();
    const after = Number(await page.locator("#scrub").inputValue());
    expect(after).toBeGreaterThan(before);
    await page.waitForTimeout(250);
    expect(Number(await page.locator("#scrub").inputValue())).toBe(after);

    const events = pages().result.hydraulics.stories[0]!.events.map((e) => e.s);
    await page.locator("#scrub").evaluate((e) => {
      (e as HTMLInputElement).value = "0";
      e.dispatchEvent(new Event("input", { bubbles: true }));
    });
    const running = await waterTop(page);
    await page.locator("#next-event").click();
    expect(Number(await page.locator("#scrub").inputValue())).toBeCloseTo(events.find((s) => s > 0.05)!, 3);
    await page.locator("#scrub").focus();
    await page.keyboard.press("PageUp");
    const second = Number(await page.locator("#scrub").inputValue());
    expect(second).toBeGreaterThan(events[0]!);
    await page.keyboard.press("ArrowRight");
    expect(Number(await page.locator("#scrub").inputValue())).toBeCloseTo(second + 1, 3);
    expect(await waterTop(page)).not.toBe(running);
    expect(await page.locator("#scrub").getAttribute("aria-valuetext")).toMatch(/\d/);
    await page.context().close();
  });

  it("does not move for readers who prefer reduced motion", async () => {
    const { page } = await open("first", { reducedMotion: "reduce" });
    await page.locator("#play").click();
    const animation = await page
      .locator(".player .pipe-dashes")
      .first()
      .evaluate((e) => getComputedStyle(e).animationName);
    expect(animation).toBe("none");
    await page.context().close();
  });

  it("plays the faults of a cell of the matrix", async () => {
    const { page, complaints } = await open("first");
    await page.locator("#faults summary").first().click();
    const known = new Set(pages().result.hydraulics.stories.map((s) => s.faults.join("|")));
    const cells = await page
      .locator(".matrix button")
      .evaluateAll((list) => list.map((b) => (b as HTMLElement).dataset.faults ?? ""));
    const unknown = cells.findIndex((c) => c !== "" && !known.has(c));
    await page.locator(".matrix button").nth(unknown).click();
    await page.waitForFunction(
      (n) => document.querySelectorAll("#story option").length > n,
      pages().result.hydraulics.stories.length,
    );
    const shown = plainly(await page.locator("#story option:checked").textContent());
    const ids = cells[unknown]!.split("|");
    const names = ids.map((id) => pages().result.hydraulics.faults.find((f) => f.id === id)!.name);
    for (const name of names) expect(shown).toContain(name);
    const cell = pages().result.hydraulics.matrix.find((m) =>
      ids.length === 1 ? m.a === ids[0] && m.b === ids[0] : ids.includes(m.a) && ids.includes(m.b) && m.a !== m.b,
    )!;
    expect(await page.locator(".story-verdict .word").textContent()).toBe(cell.verdict);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});

describe("units and bases", () => {
  it("switches every length to inches and back, and nitrogen to another basis", async () => {
    const { page } = await open("first");
    const cell = page.locator(".marks td .first").first();
    expect(plainly(await cell.textContent())).toMatch(/ mm$/);
    const mm = Number((await cell.textContent())!.replace(/[^\d.]/g, ""));
    await page.locator('input[name=units][value="US"]').check({ force: true });
    const inches = plainly(await page.locator(".marks td .first").first().textContent());
    expect(inches).toMatch(/ in$/);
    const [whole, part] =
      inches.replace(" in", "").split(" ").length === 2 ? inches.replace(" in", "").split(" ") : ["0", inches.replace(" in", "")];
    const [top, bottom] = part!.includes("/") ? part!.split("/").map(Number) : [Number(part), 1];
    // 25.4 mm per inch; the ruler's step is a sixteenth of an inch.
    expect(Math.abs((Number(whole) + top! / bottom!) * 25.4 - mm)).toBeLessThanOrEqual(0.5 * (25.4 / 16) + 0.5);
    const unit = page.locator('#curves svg[data-panel="no3"] .panel-unit');
    expect(await unit.textContent()).toBe("mg/L as NO3");
    await page.locator('input[name=basis][value="N"]').check({ force: true });
    expect(await page.locator('#curves svg[data-panel="no3"] .panel-unit').first().textContent()).toBe("mg/L as NO3-N");
    await page.context().close();
  });

  it("also switches the sentences, and uses the number format of the reader's language", async () => {
    const { page, complaints } = await open("first", { locale: "de-DE" });
    const sentence = async (): Promise<string> => plainly(await page.locator("#drawing .story-verdict").textContent());
    const [mm, inches] = /(\d+ mm) \(([\d/ ]+ in)\)/.exec(await sentence())!.slice(1);
    await page.locator('input[name=units][value="US"]').check({ force: true });
    await page.waitForFunction(
      (start) => document.querySelector("#drawing .story-verdict")?.textContent?.includes(start),
      ` (${mm!.replace(" ", "\u00a0")})`,
    );
    expect(await sentence()).toContain(`${inches} (${mm})`);
    await page.locator("#drivers summary").first().click();
    const axis = (): Promise<readonly string[]> => page.locator("#drivers svg[data-panel] .axis text").allTextContents();
    await expect.poll(async () => (await axis()).some((text) => /^\d,\d+$/.test(text))).toBe(true);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});
