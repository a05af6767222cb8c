// Accessibility: no violation found by axe, no horizontal scrolling, full keyboard operation.

import { AxeBuilder } from "@axe-core/playwright";
import { describe, expect, it } from "vitest";
import { browserAndPages } from "./setup.ts";

const { open } = browserAndPages();

describe("accessibility", () => {
  const everything = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
  // All rules run once; the other views have the same elements, so they repeat only the rules that depend on style and size.
  const looks = [
    ["light", {}, null],
    ["dark", { colorScheme: "dark" }, ["color-contrast"]],
    [
      "phone",
      { viewport: { width: 390, height: 844 }, hasTouch: true },
      ["color-contrast", "target-size", "scrollable-region-focusable"],
    ],
    ["print", {}, ["color-contrast"]],
  ] as const;
  it.each(looks)(
    "has no violation of WCAG 2.2 AA found by axe: %s",
    async (look, options, rules) => {
      const { page } = await open(look === "light" ? "compared" : "first", options);
      if (look === "print") await page.emulateMedia({ media: "print" });
      else
        await page.evaluate(() => {
          for (const d of document.querySelectorAll("details")) d.open = d.closest("#method, #drivers") === null;
        });
      await page.waitForTimeout(100);
      // Axe does not check the elements inside drawings, and there are many of them.
      const builder = new AxeBuilder({ page }).exclude("svg > *");
      const found = await (rules ? builder.withRules([...rules]) : builder.withTags(everything)).analyze();
      expect(
        found.violations.map(
          (v) =>
            `${v.id}: ${v.nodes
              .map((n) => n.target.join(" "))
              .slice(0, 3)
              .join(" | ")}`,
        ),
      ).toEqual([]);
      await page.context().close();
    },
    120_000,
  );

  it("never scrolls horizontally on a phone", async () => {
    const { page } = await open("first", { viewport: { width: 390, height: 844 }, hasTouch: true });
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    await page.context().close();
  });

  it("needs fewer than 40 Tab stops, each of them visible, with the skip link first", async () => {
    const { page } = await open("first");
    await page.keyboard.press("Tab");
    expect(await page.evaluate(() => document.activeElement?.className)).toBe("skip");
    const reached: string[] = [];
    for (let i = 0; i < 60; i++) {
      await page.keyboard.press("Tab");
      const place = await page.evaluate(() => {
        const e = document.activeElement!;
        if (e === document.body) return null;
        const style = getComputedStyle(e);
        const shown = style.outlineStyle !== "none" || getComputedStyle(e.closest("label") ?? e).outlineStyle !== "none";
        return { id: e.id || e.getAttribute("name") || e.className || (e.textContent ?? "").slice(0, 30), shown };
      });
      if (!place) break;
      expect(place.shown, `focus is seen on ${place.id}`).toBe(true);
      reached.push(place.id);
    }
    expect(reached.length, reached.join(", ")).toBeLessThan(40);
    for (const id of ["units", "basis", "story", "play", "scrub", "knob-fill", "stack"]) expect(reached).toContain(id);
    await page.context().close();
  });

  it("moves through the fault matrix with the arrow keys from a single Tab stop", async () => {
    const { page } = await open("first");
    await page.locator("#faults summary").first().click();
    const stops = page.locator("[data-matrix] button[tabindex='0']");
    expect(await stops.count()).toBe(1);
    await stops.focus();
    const at = (): Promise<string | undefined> => page.evaluate(() => (document.activeElement as HTMLElement).dataset.faults);
    const first = await at();
    await page.keyboard.press("ArrowDown");
    const second = await at();
    expect(second).not.toBe(first);
    await page.keyboard.press("ArrowRight");
    expect(await at()).toContain(second!);
    expect(await stops.count()).toBe(1);
    await page.context().close();
  });

  it("explains a term on focus, and hides the explanation with Escape", async () => {
    const { page } = await open("first");
    await page.locator(".group > summary").last().click();
    const term = page.locator("a.term:visible").first();
    await term.focus();
    const card = page.locator("#term-card");
    expect(await card.isVisible()).toBe(true);
    expect((await card.textContent())!.length).toBeGreaterThan(30);
    expect(await term.getAttribute("aria-describedby")).toBe("term-card");
    await page.keyboard.press("Escape");
    expect(await card.isVisible()).toBe(false);
    await page.context().close();
  });
});
