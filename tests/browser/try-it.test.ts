// The model in the page: changing, comparing and saving a scenario, and opening another file.
import { describe, expect, it } from "vitest";
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
