// The page as its readers meet it: opened from disk in a real browser, without network, by pointer, by keyboard, on paper.
import { readFileSync, statSync } from "node:fs";
import { AxeBuilder } from "@axe-core/playwright";
import type { Browser, Download, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { ANSWERS } from "../../viz/sections/verdict.ts";
import { launchChromium } from "./chromium.ts";
import { HOSTILE, makePages, openFile, type Pages } from "./pages.ts";
import { pdfSegments } from "./pdf.ts";

let browser: Browser;
let pages: Pages;

beforeAll(async () => {
  pages = makePages();
  browser = await launchChromium();
}, 240_000);

afterAll(async () => {
  await browser?.close();
});

const textOf = async (download: Download): Promise<string> => readFileSync(await download.path(), "utf8");

async function saved(page: Page, selector: string): Promise<Download> {
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page
      .locator(selector)
      .first()
      .evaluate((b) => (b as HTMLElement).click()),
  ]);
  return download;
}

const waterTop = (page: Page): Promise<string | null> => page.locator(".player [data-water] rect").last().getAttribute("y");

describe("opened from disk without network", () => {
  it("asks for nothing, complains of nothing, stays under a megabyte", async () => {
    const { page, complaints, requests } = await openFile(browser, pages.first);
    await page.locator("#play").click();
    await page.waitForTimeout(300);
    expect(complaints).toEqual([]);
    expect(requests).toEqual([]);
    expect(statSync(pages.first).size).toBeLessThanOrEqual(1_000_000);
    await page.context().close();
  });

  it("shows verdict, drawing and all sections without any script", async () => {
    const { page } = await openFile(browser, pages.first, { javaScriptEnabled: false });
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
    const { page } = await openFile(browser, pages.first);
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

describe("the drawing plays the power cut", () => {
  it("runs, pauses, scrubs and steps from event to event", async () => {
    const { page } = await openFile(browser, pages.first);
    const before = Number(await page.locator("#scrub").inputValue());
    await page.locator("#play").click();
    await page.waitForTimeout(700);
    await page.locator("#play").click();
    const after = Number(await page.locator("#scrub").inputValue());
    expect(after).toBeGreaterThan(before);
    await page.waitForTimeout(250);
    expect(Number(await page.locator("#scrub").inputValue())).toBe(after);

    const events = pages.result.hydraulics.stories[0]!.events.map((e) => e.s);
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

  it("stands still for readers who asked for less motion", async () => {
    const { page } = await openFile(browser, pages.first, { reducedMotion: "reduce" });
    await page.locator("#play").click();
    const animation = await page
      .locator(".player .pipe-dashes")
      .first()
      .evaluate((e) => getComputedStyle(e).animationName);
    expect(animation).toBe("none");
    await page.context().close();
  });

  it("plays the faults of a cell of the matrix", async () => {
    const { page, complaints } = await openFile(browser, pages.first);
    const known = new Set(pages.result.hydraulics.stories.map((s) => s.faults.join("|")));
    const cells = await page
      .locator(".matrix button")
      .evaluateAll((list) => list.map((b) => (b as HTMLElement).dataset.faults ?? ""));
    const unknown = cells.findIndex((c) => c !== "" && !known.has(c));
    await page.locator(".matrix button").nth(unknown).click();
    await page.waitForFunction(
      (n) => document.querySelectorAll("#story option").length > n,
      pages.result.hydraulics.stories.length,
    );
    const shown = await page.locator("#story option:checked").textContent();
    const ids = cells[unknown]!.split("|");
    const names = ids.map((id) => pages.result.hydraulics.faults.find((f) => f.id === id)!.name);
    for (const name of names) expect(shown).toContain(name);
    const cell = pages.result.hydraulics.matrix.find((m) =>
      ids.length === 1 ? m.a === ids[0] && m.b === ids[0] : ids.includes(m.a) && ids.includes(m.b) && m.a !== m.b,
    )!;
    expect(await page.locator(".story-verdict .word").textContent()).toBe(cell.verdict);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});

describe("units and bases", () => {
  it("switches every length to inches and back, and nitrogen to another basis", async () => {
    const { page } = await openFile(browser, pages.first);
    const cell = page.locator(".marks td .first").first();
    expect(await cell.textContent()).toMatch(/ mm$/);
    const mm = Number((await cell.textContent())!.replace(/[^\d.]/g, ""));
    await page.locator('input[name=units][value="US"]').check({ force: true });
    const inches = await page.locator(".marks td .first").first().textContent();
    expect(inches).toMatch(/ in$/);
    const [whole, part] =
      inches!.replace(" in", "").split(" ").length === 2
        ? inches!.replace(" in", "").split(" ")
        : ["0", inches!.replace(" in", "")];
    const [top, bottom] = part!.includes("/") ? part!.split("/").map(Number) : [Number(part), 1];
    // 25.4 mm to the inch; a sixteenth of an inch is the ruler's step.
    expect(Math.abs((Number(whole) + top! / bottom!) * 25.4 - mm)).toBeLessThanOrEqual(0.5 * (25.4 / 16) + 0.5);
    const unit = page.locator('#curves svg[data-panel="no3"] .panel-unit');
    expect(await unit.textContent()).toBe("mg/L as NO3");
    await page.locator('input[name=basis][value="N"]').check({ force: true });
    expect(await page.locator('#curves svg[data-panel="no3"] .panel-unit').first().textContent()).toBe("mg/L as NO3-N");
    await page.context().close();
  });
});

describe("charts", () => {
  it("reads out all values of a day with the arrow keys alone", async () => {
    const { page } = await openFile(browser, pages.first);
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
    const { page } = await openFile(browser, pages.first);
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
    expect(await page.locator("#lesson-panel").textContent()).toMatch(/Ammonia: on average \d+ %/);
    await page.context().close();
  });

  it("puts the reader's own readings on the chart as wide as the steps of a kit", async () => {
    const { page } = await openFile(browser, pages.first);
    await page.locator("#readings input[name=day]").fill("10");
    await page.locator("#readings input[name=value]").fill("2");
    await page.locator("#readings button[type=submit]").click();
    expect(await page.locator('[data-figure="panel:tan"] .reading-mark').count()).toBe(1);
    await page.context().close();
  });
});

describe("files to take away", () => {
  it("gives drawings, tables, the result and the scenario", async () => {
    const { page, complaints } = await openFile(browser, pages.first);
    await page.locator("details.behind > summary").click();
    const svg = await textOf(await saved(page, "[data-export=tan] [data-save=svg]"));
    expect(svg).toMatch(/^<svg[^>]+xmlns="http:\/\/www.w3.org\/2000\/svg"/);
    expect(svg).not.toMatch(/var\(--/);
    const png = readFileSync(await (await saved(page, "[data-export=tan] [data-save=png]")).path());
    expect([...png.subarray(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10]);
    expect(png.readUInt32BE(16)).toBeGreaterThan(1000);
    const csv = await textOf(await saved(page, "[data-data=csv-days]"));
    expect(csv.split("\r\n").length).toBeGreaterThan(pages.result.nitrogen.timeDays.length * 3);
    const json = JSON.parse(await textOf(await saved(page, "[data-data=json]"))) as readonly { name: string }[];
    expect(json[0]!.name).toBe(pages.result.name);
    expect(await textOf(await saved(page, "[data-data=scenario]"))).toBe(pages.result.source);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("writes a calendar as RFC 5545 wants it", async () => {
    const { page } = await openFile(browser, pages.first);
    await page.locator("#day-zero").fill("2027-03-01");
    const text = await textOf(await saved(page, "[data-data=ics]"));
    const lines = text.split("\r\n");
    expect(lines[0]).toBe("BEGIN:VCALENDAR");
    expect(text).not.toMatch(/[^\r]\n/); // every line ends with CRLF (3.1)
    for (const line of lines) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75); // folded by octets (3.1)
    expect(lines.filter((l) => l === "BEGIN:VEVENT").length).toBe(pages.result.calendar.length);
    const first = pages.result.calendar[0]!;
    const date = new Date(Date.UTC(2027, 2, 1) + Math.floor(first.day) * 86_400_000)
      .toISOString()
      .slice(0, 10)
      .replaceAll("-", "");
    expect(text).toContain(`DTSTART;VALUE=DATE:${date}`);
    expect(await page.locator("td.date").first().textContent()).not.toBe("");
    await page.context().close();
  });
});

describe("on paper", () => {
  it("prints the strip at full size: its check bar is 100 mm in the PDF", async () => {
    const { page } = await openFile(browser, pages.first);
    const pdf = await page.pdf({ preferCSSPageSize: true });
    const horizontal = pdfSegments(pdf)
      .filter(({ from, to }) => Math.abs(from[1] - to[1]) < 0.01)
      .map(({ from, to }) => Math.abs(to[0] - from[0]) * (25.4 / 72));
    expect(horizontal.filter((mm) => Math.abs(mm - 100) < 0.05).length).toBeGreaterThanOrEqual(1);

    await page.emulateMedia({ media: "print" });
    const bar = (await page.locator(".check-bar").boundingBox())!;
    expect((bar.width / 96) * 25.4).toBeCloseTo(100, 2); // 96 CSS pixels to the inch (CSS Values 4, 5.2)
    const top = (await page.locator(".strip .cutline").first().boundingBox())!.y;
    const marks = pages.result.hydraulics.marks;
    const line = (await page.locator('[data-mark="OFF LEVEL"] .mark').boundingBox())!;
    expect(((line.y + line.height / 2 - top) / 96) * 25.4).toBeCloseTo((marks.sumpRimM - marks.offLevelM) * 1000, 0);
    await page.context().close();
  });

  it("uses ink alone and leaves out the controls", async () => {
    const { page } = await openFile(browser, pages.first, { colorScheme: "dark" });
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

describe("words of a file are never markup", () => {
  it.each([["alone"], ["compared"]] as const)("hostile names, notes and labels are shown as they are: %s", async (which) => {
    const { page, complaints } = await openFile(browser, which === "alone" ? pages.hostile : pages.compared);
    expect(await page.evaluate(() => "owned" in globalThis)).toBe(false);
    expect(await page.locator("img,iframe,b[onclick],svg[onload],main script").count()).toBe(0);
    expect((await page.locator("h1, main").allTextContents()).join(" ")).toContain(HOSTILE);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});

describe("try it", () => {
  it("runs the changed scenario in the page, keeps the first as a ghost, tells the difference, saves and resets", async () => {
    const { page, complaints, requests } = await openFile(browser, pages.first);
    await page.locator("#knob-fill").evaluate((e) => {
      const input = e as HTMLInputElement;
      input.value = "330";
      input.dispatchEvent(new Event("input", { bubbles: true }));
    });
    await page.waitForFunction(() => /faults included/.test(document.querySelector("#try-state")?.textContent ?? ""), null, {
      timeout: 90_000,
    });
    expect(await page.locator("#try-words li").count()).toBeGreaterThan(0);
    expect(await page.locator("[data-figure^='panel:'] .ghost").count()).toBeGreaterThan(3);
    expect(await page.locator("#verdict .lead").textContent()).toContain("With your changes");
    const file = await textOf(await saved(page, "#try-save"));
    expect(file).toMatch(/water: 330 mm/);
    expect(file).toContain("# The shortest useful file");
    await page.locator("#try-reset").click();
    expect(await page.locator(".ghost").count()).toBe(0);
    expect(complaints).toEqual([]);
    expect(requests).toEqual([]);
    await page.context().close();
  }, 120_000);

  it("opens another scenario file, and tells what is wrong with a broken one", async () => {
    const { page } = await openFile(browser, pages.first);
    await page
      .locator("#try-open")
      .setInputFiles({ name: "broken.yaml", mimeType: "text/yaml", buffer: Buffer.from("sumpwright: 1\nname: x\ntnak: 3\n") });
    await page.waitForFunction(() => /cannot be run/.test(document.querySelector("#try-state")?.textContent ?? ""));
    expect(await page.locator("#try-words").textContent()).toMatch(/broken\.yaml:3:1/);
    await page.context().close();
  });
});

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
      const { page } = await openFile(browser, look === "light" ? pages.compared : pages.first, options);
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
    const { page } = await openFile(browser, pages.first, { viewport: { width: 390, height: 844 }, hasTouch: true });
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    await page.context().close();
  });

  it("can be walked through with the keyboard, starting with a way past the top", async () => {
    const { page } = await openFile(browser, pages.first);
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
