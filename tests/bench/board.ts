// Speed of the drawing board in a real browser without a graphics card. Run: npm run measure:board (after npm run build).
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { drawnAgain, openBoard } from "../browser/board-page.ts";
import { launchChromium } from "../browser/chromium.ts";

const ROUNDS = 5;
const median = (list: readonly number[]): number => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)]!;
const scenario = fileURLToPath(new URL("../../scenarios/shipped/client-750.yaml", import.meta.url));

const browser = await launchChromium();
try {
  const opened: number[] = [];
  for (let i = 0; i < ROUNDS; i++) {
    const { page, context } = await openBoard(browser);
    await page.waitForSelector(".cards svg");
    opened.push(await page.evaluate(() => performance.getEntriesByName("first-contentful-paint")[0]?.startTime ?? Number.NaN));
    await context.close();
  }
  console.log(`opened from disk to the first view: ${median(opened).toFixed(0)} ms (median of ${ROUNDS})`);

  const { page, context } = await openBoard(browser);
  await page
    .locator("input[type=file]")
    .first()
    .setInputFiles({ name: "client-750.yaml", mimeType: "text/yaml", buffer: readFileSync(scenario) });
  await page.waitForSelector("[data-job='power cut']");
  await page.waitForTimeout(4000);
  const grip = page.locator("[data-handle='sump water'] .handle-grip");
  await grip.scrollIntoViewIfNeeded();
  const box = (await grip.boundingBox())!;
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  // As a string, because the runner adds a helper to named functions that the page does not have.
  await page.evaluate("frames = []; (function next(t) { if (t) frames.push(t); requestAnimationFrame(next); })()");
  for (let i = 0; i < 120; i++) {
    await page.mouse.move(x, y - 20 * Math.sin(i / 9));
    await drawnAgain(page);
  }
  const frames = await page.evaluate(() => (globalThis as unknown as { frames: number[] }).frames);
  const gaps = frames.slice(1).map((t, i) => t - frames[i]!);
  const seconds = (frames.at(-1)! - frames[0]!) / 1000;
  console.log(
    `dragging the water line of the 750 L system: ${(gaps.length / seconds).toFixed(0)} frames a second, median gap ${median(gaps).toFixed(1)} ms, longest ${Math.max(...gaps).toFixed(0)} ms`,
  );
  await page.mouse.up();
  await context.close();
} finally {
  await browser.close();
}
