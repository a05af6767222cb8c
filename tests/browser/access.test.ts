// For everybody: no violation that axe finds, no sideways scrolling, all of it by keyboard.

import { AxeBuilder } from "@axe-core/playwright";
import { describe, expect, it } from "vitest";
import { browserAndPages } from "./setup.ts";

const { open } = browserAndPages();

describe("for everybody", () => {
  const everything = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
  // All rules run once; the other looks have the same elements, so only what depends on looks and size is asked again.
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
    "has no violation of WCAG 2.2 AA that axe can find: %s",
    async (look, options, rules) => {
      const { page } = await open(look === "light" ? "compared" : "first", options);
      if (look === "print") await page.emulateMedia({ media: "print" });
      else await page.locator("details.method > summary").first().click();
      const builder = new AxeBuilder({ page });
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

  it("never scrolls sideways on a phone", async () => {
    const { page } = await open("first", { viewport: { width: 390, height: 844 }, hasTouch: true });
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    await page.context().close();
  });

  it("can be walked through with the keyboard, starting with a way past the top", async () => {
    const { page } = await open("first");
    await page.keyboard.press("Tab");
    expect(await page.evaluate(() => document.activeElement?.className)).toBe("skip");
    const reached = new Set<string>();
    for (let i = 0; i < 60; i++) {
      await page.keyboard.press("Tab");
      const place = await page.evaluate(() => {
        const e = document.activeElement!;
        const style = getComputedStyle(e);
        const shown = style.outlineStyle !== "none" || getComputedStyle(e.closest("label") ?? e).outlineStyle !== "none";
        return { id: e.id || e.getAttribute("name") || e.className, shown };
      });
      expect(place.shown, `focus is seen on ${place.id}`).toBe(true);
      reached.add(place.id);
    }
    for (const id of ["units", "basis", "story", "play", "next-event", "scrub", "knob-fill", "lesson"])
      expect([...reached]).toContain(id);
    await page.context().close();
  });
});
