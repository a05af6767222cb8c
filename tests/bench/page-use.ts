// Changes the page so often and prints what it holds: npm run use:page -- 300 (after npm run build). Ends with 1 at the first word in the console.

import { heapMB } from "../browser/board-page.ts";
import { launchChromium } from "../browser/chromium.ts";
import { changeOften, makePages, openFile } from "../browser/pages.ts";

const changes = Number(process.argv[2] ?? 300);
const EVERY = 25;

const browser = await launchChromium();
try {
  const { page, complaints } = await openFile(browser, makePages().first);
  await page.locator("#knob-temperature").scrollIntoViewIfNeeded();
  for (let done = 0; done < changes && complaints.length === 0; done += EVERY) {
    await changeOften(page, Math.min(EVERY, changes - done));
    console.log(`${Math.min(done + EVERY, changes)} changes, ${(await heapMB(page)).toFixed(1)} MB`);
  }
  for (const complaint of complaints) console.log(complaint);
  process.exitCode = complaints.length > 0 ? 1 : 0;
} finally {
  await browser.close();
}
