// Helpers for tests and measurements of the drawing board: opening it, and random actions.
import { existsSync } from "node:fs";
import { fileURLToPath, pathToFileURL } from "node:url";
import type { Browser, BrowserContext, BrowserContextOptions, Page } from "playwright-core";
import type { Draw } from "../fuzz/draw.ts";

const file = fileURLToPath(new URL("../../dist/sumpwright.html", import.meta.url));

export const boardFile = (): string => {
  if (!existsSync(file)) throw new Error(`${file} is missing: npm run build makes it`);
  return file;
};

export interface Board {
  readonly page: Page;
  readonly context: BrowserContext;
  /** All console messages and uncaught errors. */
  readonly complaints: string[];
  /** All requests except that for the file itself. */
  readonly requests: string[];
}

/** Opens the board from disk with the network off, in a new profile unless one is given. */
export async function openBoard(
  browser: Browser,
  options: BrowserContextOptions = {},
  fragment = "",
  profile?: BrowserContext,
): Promise<Board> {
  const context = profile ?? (await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options, offline: true }));
  const page = await context.newPage();
  const complaints: string[] = [];
  const requests: string[] = [];
  page.on("console", (m) => complaints.push(m.text()));
  page.on("pageerror", (e) => complaints.push(e.message));
  const url = pathToFileURL(boardFile()).href;
  page.on("request", (r) => {
    if (!r.url().startsWith(url) && !r.url().startsWith("blob:")) requests.push(r.url());
  });
  await page.goto(url + fragment);
  await page.waitForSelector("html.alive #main > *");
  return { page, context, complaints, requests };
}

/** From the first screen to the board with the answer of a starting point. */
export async function begin(page: Page, start: string): Promise<void> {
  await page.locator(`[data-start=${start}]`).click();
  if (start !== "empty") {
    await page.getByRole("button", { name: "Skip the questions" }).click();
    await page.waitForSelector("[data-job='power cut']");
    await page.waitForSelector("svg.cutaway");
  }
}

/** Waits for a redraw; the board draws the changes once per frame. */
export const drawnAgain = (page: Page): Promise<void> =>
  page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done()))));

/** The text of the scenario as the text pane shows it; the pane is left open. */
export async function textOf(page: Page): Promise<string> {
  await page.locator("input[name=pane][value=text]").check({ force: true });
  await page.locator(".text-pane .cm-line").first().waitFor();
  await drawnAgain(page);
  const lines = await page.locator(".text-pane .cm-line").allTextContents();
  return lines.join("\n");
}

const TYPED = ["12 cm", "300 mm", "2000 L/h", "25 °C", "nonsense", "8", "-1", "60 %", "<b>x</b>", ""];

/** One random user action at the board. */
export async function useOnce(page: Page, draw: Draw): Promise<string> {
  const pickOf = async (selector: string): Promise<number> => {
    const count = await page.locator(selector).count();
    return count === 0 ? -1 : draw.whole(0, count - 1);
  };
  const roll = draw.whole(0, 9);
  const visible = { timeout: 3000 };
  await drawnAgain(page);
  if ((await page.locator("main[data-screen=board]").count()) === 0) {
    await page
      .getByRole("button", { name: /Back to the board|^Open |Skip the questions/ })
      .first()
      .click(visible);
    return "back";
  }
  if (roll < 3) {
    const i = await pickOf(".tree .part");
    await page.locator(".tree .part").nth(i).click(visible);
    return `part ${i}`;
  }
  if (roll < 5) {
    await page.locator("input[name=pane][value=part]").check({ force: true });
    const i = await pickOf(".field input");
    if (i < 0) return "no field";
    const text = draw.pick(TYPED);
    await page.locator(".field input").nth(i).fill(text, visible);
    await page.keyboard.press("Enter");
    return `field ${i} = ${text}`;
  }
  if (roll === 5) {
    const i = await pickOf(".handle");
    if (i < 0) return "no handle";
    await page.locator(".handle").nth(i).focus();
    for (let k = draw.whole(1, 6); k > 0; k--)
      await page.keyboard.press(draw.pick(["ArrowUp", "ArrowDown", "PageUp", "PageDown"]));
    return `handle ${i}`;
  }
  if (roll === 6) {
    await page.getByRole("button", { name: draw.pick(["Undo", "Redo"]), exact: true }).click({ ...visible, force: true });
    return "history";
  }
  if (roll === 7) {
    const i = await pickOf(".part-actions button");
    if (i < 0) return "no button";
    await page.locator(".part-actions button").nth(i).click(visible);
    return `button ${i}`;
  }
  if (roll === 8) {
    await page.locator(`input[name=pane][value=${draw.pick(["text", "part"])}]`).check({ force: true });
    return "pane";
  }
  await page.getByRole("button", { name: draw.pick(["Keep", "Print and send", "Begin anew"]), exact: true }).click(visible);
  return "screen";
}

/** Heap of the page after garbage collection [MB]. */
export async function heapMB(page: Page): Promise<number> {
  const session = await page.context().newCDPSession(page);
  await session.send("HeapProfiler.enable");
  await session.send("HeapProfiler.collectGarbage");
  const { usedSize } = await session.send("Runtime.getHeapUsage");
  await session.detach();
  return usedSize / 1e6;
}
