// The model in the page: changed, compared, saved, fed with another file.
import { describe, expect, it } from "vitest";
import { browserAndPages, saved, textOf } from "./setup.ts";

const { open } = browserAndPages();

describe("try it", () => {
  it("runs the changed scenario in the page, keeps the first as a ghost, tells the difference, saves and resets", async () => {
    const { page, complaints, requests } = await open("first");
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
    const { page } = await open("first");
    await page
      .locator("#try-open")
      .setInputFiles({ name: "broken.yaml", mimeType: "text/yaml", buffer: Buffer.from("sumpwright: 1\nname: x\ntnak: 3\n") });
    await page.waitForFunction(() => /cannot be run/.test(document.querySelector("#try-state")?.textContent ?? ""));
    expect(await page.locator("#try-words").textContent()).toMatch(/broken\.yaml:3:1/);
    await page.context().close();
  });
});
