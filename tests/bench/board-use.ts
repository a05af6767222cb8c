// Uses the drawing board at random for a number of minutes: npm run use:board -- 30. Ends with 1 at the first message
// in the console.

import { begin, heapMB, openBoard, useOnce } from "../browser/board-page.ts";
import { launchChromium } from "../browser/chromium.ts";
import { drawOf } from "../fuzz/draw.ts";

const minutes = Number(process.argv[2] ?? 30);
const seed = process.argv[3] ?? "1";
const browser = await launchChromium();
try {
  const { page, complaints } = await openBoard(browser);
  await begin(page, "tower");
  const draw = drawOf("board endurance", Number(seed));
  const end = Date.now() + minutes * 60_000;
  let next = Date.now();
  for (let done = 1; Date.now() < end && complaints.length === 0; done++) {
    await useOnce(page, draw);
    if (Date.now() < next) continue;
    next = Date.now() + 60_000;
    console.log(`${((end - Date.now()) / 60_000).toFixed(0)} min left, ${done} actions, ${(await heapMB(page)).toFixed(1)} MB`);
  }
  for (const complaint of complaints) console.log(complaint);
  process.exitCode = complaints.length > 0 ? 1 : 0;
} finally {
  await browser.close();
}
