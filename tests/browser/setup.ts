// Setup of every browser test: a browser, and real pages made once by the built command.
import { readFileSync } from "node:fs";
import type { Browser, BrowserContextOptions, Download, Page } from "playwright-core";
import { afterAll, beforeAll } from "vitest";
import { type Fonts, launchChromium } from "./chromium.ts";
import { makePages, type Opened, openFile, type Pages } from "./pages.ts";

export interface Setup {
  pages(): Pages;
  open(which: "first" | "hostile" | "compared", options?: BrowserContextOptions): Promise<Opened>;
}

/** Call once in a test file, or once in a group of tests with other fonts. */
export function browserAndPages(fonts?: Fonts): Setup {
  let browser: Browser | null = null;
  let pages: Pages | null = null;
  const made = (): Pages => {
    if (!pages) throw new Error("the pages are made before the tests");
    return pages;
  };
  beforeAll(async () => {
    pages = makePages();
    browser = await launchChromium(fonts);
  });
  afterAll(async () => {
    await browser?.close();
  });
  return {
    pages: made,
    open(which, options = {}) {
      if (!browser) throw new Error("the browser starts before the tests");
      return openFile(browser, made()[which], options);
    },
  };
}

/** Download started by a button, whether or not it is in view. */
export async function saved(page: Page, selector: string): Promise<Download> {
  const press = (b: HTMLElement | SVGElement): void => (b as HTMLElement).click();
  const [download] = await Promise.all([page.waitForEvent("download"), page.locator(selector).first().evaluate(press)]);
  return download;
}

export const textOf = async (download: Download): Promise<string> => readFileSync(await download.path(), "utf8");

/** Text with ordinary spaces; the page uses non-breaking spaces between number and unit. */
export const plainly = (text: string | null): string => (text ?? "").replaceAll("\u00a0", " ");
