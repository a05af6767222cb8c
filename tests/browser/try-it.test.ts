// The model in the page: changing, comparing and saving a scenario, and opening another file.
import { describe, expect, it } from "vitest";
import { heapMB } from "./board-page.ts";
import { changeOften } from "./pages.ts";
import { browserAndPages, saved, textOf } from "./setup.ts";

const { open } = browserAndPages();

describe("try it", () => {
  it("runs the changed scenario in the page, keeps the first in the background, shows the difference, saves and resets", async () => {
    const { page, complaints, requests } = await open("first");
    await page.locator("#knob-fill").fill("330");
    await page.waitForFunction(() => /faults included/.test(document.querySelector("#try-state")?.textContent ?? ""), null, {
      timeout: 90_000,
    });
    expect(await page.locator("#try-words li").count()).toBeGreaterThan(0);
    expect(await page.locator("[data-figure^='panel:'] .ghost").count()).toBe(3);
    expect(await page.locator("#answer-title").textContent()).toContain("with your changes");
    expect(await page.locator("[data-slide=fill]").inputValue()).toBe("330");
    const file = await textOf(await saved(page, "#try-save"));
    expect(file).toMatch(/water: 330 mm/);
    expect(file).toContain("# The shortest useful file");
    await page.locator("#try-reset").click();
    expect(await page.locator(".ghost").count()).toBe(0);
    expect(complaints).toEqual([]);
    expect(requests).toEqual([]);
    await page.context().close();
  }, 120_000);

  it("undoes and redoes changes, drags the water line, keeps changes and compares them with the file", async () => {
    const { page, complaints } = await open("first");
    const fill = page.locator("#knob-fill");
    const original = await fill.inputValue();
    const settled = (): Promise<unknown> =>
      page.waitForFunction(() => /First answer|Done/.test(document.querySelector("#try-state")?.textContent ?? ""), null, {
        timeout: 60_000,
      });
    await page.locator("[data-handle=fill]").scrollIntoViewIfNeeded();
    const grip = (await page.locator("[data-handle=fill]").boundingBox())!;
    await page.mouse.move(grip.x + grip.width / 2, grip.y + grip.height / 2);
    await page.mouse.down();
    await page.mouse.move(grip.x + grip.width / 2, grip.y + grip.height / 2 - 12, { steps: 4 });
    await page.mouse.up();
    await settled();
    const dragged = await fill.inputValue();
    expect(Number(dragged)).toBeGreaterThan(Number(original));
    await page.locator("#try-undo").click();
    expect(await fill.inputValue()).toBe(original);
    await page.locator("#try-redo").click();
    expect(await fill.inputValue()).toBe(dragged);
    await settled();
    await page.locator("#try-keep").click();
    await page.locator("#try-compare").click();
    await page.locator("#compare").waitFor();
    expect(await page.locator("#curves svg[data-panel=no2] .line").count()).toBe(2);
    await page.locator("#try-compare").click();
    expect(await page.locator("#compare").count()).toBe(0);
    expect(complaints).toEqual([]);
    await page.context().close();
  }, 120_000);

  it("says the model's own range when a typed value is out of it, and leaves what was typed", async () => {
    const { page, complaints } = await open("first");
    const said = (): Promise<string | null> => page.locator("#try-words").textContent();
    for (const [knob, typed, range] of [
      ["temperature", "90", /possible range, 2 °?C to 38 °?C/],
      ["fill", "5000", /5000 mm|5 m/],
    ] as const) {
      await page.locator(`#knob-${knob}`).fill(typed);
      await expect.poll(said, { timeout: 20_000 }).toMatch(range);
      expect(await page.locator("#try-state").textContent()).toBe("This does not work:");
      expect(await page.locator(`#knob-${knob}`).inputValue()).toBe(typed);
      await page.locator("#try-undo").click();
    }
    expect(complaints).toEqual([]);
    await page.context().close();
  }, 60_000);

  it("holds on to nothing of 40 changes", async () => {
    const { page, complaints } = await open("first");
    await page.locator("#knob-temperature").scrollIntoViewIfNeeded();
    await changeOften(page, 10);
    const before = await heapMB(page);
    await changeOften(page, 40);
    expect((await heapMB(page)) - before).toBeLessThan(4);
    expect(complaints).toEqual([]);
    await page.context().close();
  }, 180_000);

  it("opens another scenario file, and reports the errors of an invalid one", async () => {
    const { page } = await open("first");
    await page
      .locator("#try-open")
      .setInputFiles({ name: "broken.yaml", mimeType: "text/yaml", buffer: Buffer.from("sumpwright: 1\nname: x\ntnak: 3\n") });
    await page.waitForFunction(() => /cannot be run/.test(document.querySelector("#try-state")?.textContent ?? ""));
    expect(await page.locator("#try-words").textContent()).toMatch(/broken\.yaml:3:1/);
    await page.context().close();
  });
});
