// Output of the page: files, calendars, paper.

import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { pdfSegments } from "./pdf.ts";
import { browserAndPages, saved, textOf } from "./setup.ts";

describe("files to take away", () => {
  const { open, pages } = browserAndPages();
  it("include drawings, tables, the result and the scenario", async () => {
    const { page, complaints } = await open("first");
    await page.locator("details.behind > summary").last().click();
    await page.locator("#method summary").first().click();
    const svg = await textOf(await saved(page, "[data-export=tan] [data-save=svg]"));
    expect(svg).toMatch(/^<svg[^>]+xmlns="http:\/\/www.w3.org\/2000\/svg"/);
    expect(svg).not.toMatch(/var\(--/);
    const png = readFileSync(await (await saved(page, "[data-export=tan] [data-save=png]")).path());
    expect([...png.subarray(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10]);
    expect(png.readUInt32BE(16)).toBeGreaterThan(1000);
    const csv = await textOf(await saved(page, "[data-data=csv-days]"));
    expect(csv.split("\r\n").length).toBeGreaterThan(pages().result.nitrogen.timeDays.length * 3);
    const json = JSON.parse(await textOf(await saved(page, "[data-data=json]"))) as readonly { name: string }[];
    expect(json[0]!.name).toBe(pages().result.name);
    expect(await textOf(await saved(page, "[data-data=scenario]"))).toBe(pages().result.source);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("include a calendar that conforms to RFC 5545", async () => {
    const { page } = await open("first");
    await page.locator("#sheet-calendar summary").click();
    await page.locator("#day-zero").fill("2027-03-01");
    const text = await textOf(await saved(page, "[data-data=ics]"));
    const lines = text.split("\r\n");
    expect(lines[0]).toBe("BEGIN:VCALENDAR");
    expect(text).not.toMatch(/[^\r]\n/); // every line ends with CRLF (3.1)
    for (const line of lines) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75); // folded by octets (3.1)
    expect(lines.filter((l) => l === "BEGIN:VEVENT").length).toBe(pages().result.calendar.length);
    const first = pages().result.calendar[0]!;
    const date = new Date(Date.UTC(2027, 2, 1) + Math.floor(first.day) * 86_400_000)
      .toISOString()
      .slice(0, 10)
      .replaceAll("-", "");
    expect(text).toContain(`DTSTART;VALUE=DATE:${date}`);
    // Day, date and file agree.
    const rows = await page
      .locator("#sheet-calendar tbody tr")
      .evaluateAll((list) =>
        list.map((row) => ({ day: row.querySelector("th")!.textContent, date: row.querySelector("td.date")!.textContent })),
      );
    const starts = lines.filter((l) => l.startsWith("DTSTART")).map((l) => l.slice(-8));
    rows.forEach(({ day, date: shown }, i) => {
      const own = new Date(Date.UTC(2027, 2, 1) + Number(day) * 86_400_000);
      expect(own.toISOString().slice(0, 10).replaceAll("-", "")).toBe(starts[i]);
      expect(shown).toContain(String(own.getUTCDate()));
    });
    await page.context().close();
  });
});

describe.each(["ordinary", "bare"] as const)("on paper, with %s fonts", (fonts) => {
  const { open, pages } = browserAndPages(fonts);
  it("prints the strip at full size: its check bar is 100 mm in the PDF", async () => {
    const { page } = await open("first");
    const pdf = await page.pdf({ preferCSSPageSize: true });
    const horizontal = (await pdfSegments(pdf))
      .filter(({ from, to }) => Math.abs(from[1] - to[1]) < 0.01)
      .map(({ from, to }) => Math.abs(to[0] - from[0]) * (25.4 / 72));
    expect(horizontal.filter((mm) => Math.abs(mm - 100) < 0.05).length).toBeGreaterThanOrEqual(1);

    await page.emulateMedia({ media: "print" });
    const bar = (await page.locator(".check-bar").boundingBox())!;
    expect((bar.width / 96) * 25.4).toBeCloseTo(100, 2); // 96 CSS pixels to the inch (CSS Values 4, 5.2)
    const top = (await page.locator(".strip .cutline").first().boundingBox())!.y;
    const marks = pages().result.hydraulics.marks;
    const line = (await page.locator('[data-mark="OFF LEVEL"] .mark').first().boundingBox())!;
    expect(((line.y + line.height / 2 - top) / 96) * 25.4).toBeCloseTo((marks.sumpRimM - marks.offLevelM) * 1000, 0);
    await page.context().close();
  });

  it("has no text smaller than 7.5 points, including charts and drawing", async () => {
    const { page } = await open("first");
    await page.emulateMedia({ media: "print" });
    await page.setViewportSize({ width: 695, height: 1000 }); // text of A4 between margins of 13 mm, 96 pixels to the inch
    await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
    const small = await page.evaluate(() => {
      const least = (7.5 / 72) * 96 - 0.01;
      const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
      const found: string[] = [];
      for (let node = walker.nextNode(); node; node = walker.nextNode()) {
        const element = node.parentElement;
        if (!element || !node.textContent?.trim() || element.closest("script,style,.visually-hidden")) continue;
        if (!element.checkVisibility({ visibilityProperty: true })) continue;
        const svg = element.closest<SVGSVGElement>("svg");
        const scale = svg ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1;
        const size = Number.parseFloat(getComputedStyle(element).fontSize) * scale;
        if (size < least)
          found.push(`${size.toFixed(1)} px: ${node.textContent.trim().slice(0, 40)} in ${element.closest("section")?.id}`);
      }
      return found;
    });
    expect(small).toEqual([]);
    await page.context().close();
  });

  it("uses black ink only and omits the controls", async () => {
    const { page } = await open("first", { colorScheme: "dark" });
    await page.emulateMedia({ media: "print" });
    expect(await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor)).toBe("rgb(255, 255, 255)");
    for (const selector of [".toolbar", ".player-controls", "#try", ".lesson"])
      expect(await page.locator(selector).isVisible()).toBe(false);
    expect(await page.locator(".still").isVisible()).toBe(true);
    const coloured = await page.locator("main *").evaluateAll((list) =>
      list.flatMap((e) => {
        const c = getComputedStyle(e).color.match(/\d+/g)!.map(Number);
        return Math.max(c[0]!, c[1]!, c[2]!) - Math.min(c[0]!, c[1]!, c[2]!) > 8 ? [e.tagName] : [];
      }),
    );
    expect(coloured).toEqual([]);
    await page.context().close();
  });
});
