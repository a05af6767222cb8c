// Speed of the page in a real browser, opened from disk: npm run measure:page (after npm run build; takes a few minutes).
// Prints medians of several passes, and the load of the machine, which affects every figure.
import { execFileSync } from "node:child_process";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { cpus, loadavg } from "node:os";
import { fileURLToPath } from "node:url";
import type { Browser, Page } from "playwright-core";
import { launchChromium } from "../browser/chromium.ts";
import { openFile } from "../browser/pages.ts";

const at = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const folder = at(".cache/bench-pages");
const PASSES = 7;
const PLAY_MS = 6000;
/** A frame that takes longer than one and a half display periods counts as dropped. */
const FRAME_MS = 1000 / 60;

/** Shipped scenarios over 90 days: a run-in, and one with all parts and events. */
const SCENARIOS = ["fishless-cycle-180", "client-750"] as const;

const median = (list: readonly number[]): number => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)] ?? Number.NaN;
const ms = (value: number): string => `${value.toFixed(0)} ms`;
const say = (what: string, value: string): void => console.log(`  ${what.padEnd(58)} ${value}`);

const IDLE_SHARE = 0.75;
const MOST_TRIES = 60;

/** Waits until three quarters of the machine have been idle for half a second, for at most half a minute. */
async function quiet(): Promise<void> {
  const times = (): { idle: number; all: number } =>
    cpus().reduce((sum, { times: t }) => ({ idle: sum.idle + t.idle, all: sum.all + t.user + t.nice + t.sys + t.irq + t.idle }), {
      idle: 0,
      all: 0,
    });
  for (let i = 0; i < MOST_TRIES; i++) {
    const before = times();
    await new Promise((resolve) => setTimeout(resolve, 500));
    const after = times();
    if (after.idle - before.idle >= IDLE_SHARE * (after.all - before.all)) return;
  }
}

function makePages(): readonly string[] {
  mkdirSync(folder, { recursive: true });
  const files = SCENARIOS.map((name) => {
    const file = `${folder}/${name}.yaml`;
    writeFileSync(file, readFileSync(at(`scenarios/shipped/${name}.yaml`), "utf8").replace(/^days:.*$/m, "days: 90"));
    return file;
  });
  execFileSync(process.execPath, [at("dist/cli.js"), "run", ...files, "--out", folder], { stdio: "pipe" });
  return SCENARIOS.map((name) => `${folder}/${name}.html`);
}

/**
 * Records when the first verdict is painted, and every task that blocks the main thread for more than 50 ms (Long
 * Tasks, W3C).
 */
function watchPaints(): void {
  const seen = { verdictMs: 0, longTasks: [] as { at: number; ms: number }[] };
  // The runner that strips types calls this helper on named functions; the page does not have it.
  Object.assign(globalThis, {
    seen,
    __name(f: unknown) {
      return f;
    },
  });
  new MutationObserver((_, observer) => {
    const first = document.querySelector("#answer .lead-answer .text");
    if (!first) return;
    first.setAttribute("elementtiming", "verdict");
    observer.disconnect();
  }).observe(document, { childList: true, subtree: true });
  new PerformanceObserver((list) => {
    for (const entry of list.getEntries()) seen.verdictMs ||= (entry as PerformanceEntry & { renderTime: number }).renderTime;
  }).observe({ type: "element", buffered: true });
  new PerformanceObserver((list) => {
    for (const { startTime, duration } of list.getEntries()) seen.longTasks.push({ at: startTime, ms: duration });
  }).observe({ type: "longtask", buffered: true });
}

interface Seen {
  readonly verdictMs: number;
  readonly longTasks: readonly { readonly at: number; readonly ms: number }[];
}

const seenOn = (page: Page): Promise<Seen> => page.evaluate(() => (globalThis as unknown as { seen: Seen }).seen);

async function opening(browser: Browser, file: string): Promise<void> {
  const verdicts: number[] = [];
  const longest: number[] = [];
  for (let i = 0; i < PASSES; i++) {
    await quiet();
    const { page } = await openFile(browser, file, {}, watchPaints);
    await page.waitForTimeout(400);
    const { verdictMs, longTasks } = await seenOn(page);
    verdicts.push(verdictMs);
    longest.push(Math.max(0, ...longTasks.map((task) => task.ms)));
    await page.context().close();
  }
  say("opened from disk: first verdict painted after", `${ms(median(verdicts))} (worst ${ms(Math.max(...verdicts))})`);
  say("  longest task of the main thread while opening", ms(median(longest)));
}

/** Time from releasing a control to the frame with the redrawn curves. */
function redraw(change: { knob: string; value: string }): Promise<{ ms: number; from: number }> {
  return new Promise((resolve) => {
    const knob = document.querySelector<HTMLInputElement>(`#knob-${change.knob}`)!;
    const panel = document.querySelector("[data-figure='panel:no3']")!;
    const before = panel.innerHTML;
    const from = performance.now();
    const look = (): void => {
      if (panel.innerHTML === before) requestAnimationFrame(look);
      else requestAnimationFrame(() => resolve({ ms: performance.now() - from, from }));
    };
    knob.value = change.value;
    knob.dispatchEvent(new Event("input", { bubbles: true }));
    knob.dispatchEvent(new Event("change", { bubbles: true }));
    look();
  });
}

/** A control of the nitrogen model only, and one that also affects the hydraulics. */
const KNOBS = [
  { knob: "kh", values: ["4", "6", "9", "12", "5", "7", "11"] },
  { knob: "fill", values: ["200", "180", "210", "190", "220", "170", "205"] },
] as const;

async function tryIt(browser: Browser, file: string): Promise<void> {
  for (const { knob, values } of KNOBS) {
    const { page } = await openFile(browser, file, {}, watchPaints);
    const settled = (): Promise<unknown> =>
      page.waitForFunction(() => /faults included/.test(document.querySelector("#try-state")?.textContent ?? ""), null, {
        timeout: 60_000,
      });
    await page.locator(`#knob-${knob}`).scrollIntoViewIfNeeded();
    // The model starts when its panel becomes visible.
    await page.waitForTimeout(4000);
    const times: number[] = [];
    const whole: number[] = [];
    const longest: number[] = [];
    for (const value of values) {
      await quiet();
      const { ms: taken, from } = await page.evaluate(redraw, { knob, value });
      await settled();
      times.push(taken);
      whole.push((await page.evaluate(() => performance.now())) - from);
      await page.waitForTimeout(300);
      const { longTasks } = await seenOn(page);
      longest.push(Math.max(0, ...longTasks.filter((task) => task.at >= from).map((task) => task.ms)));
    }
    say(`Try it, ${knob}: from letting go to the redrawn page`, `${ms(median(times))} (worst ${ms(Math.max(...times))})`);
    say("  to the last fault", ms(median(whole)));
    say(
      "  longest task of the main thread meanwhile (0: under 50 ms)",
      `${ms(median(longest))} (worst ${ms(Math.max(...longest))})`,
    );
    await page.context().close();
  }
}

/** Intervals between frames during a movement. */
function frames(spanMs: number): Promise<readonly number[]> {
  return new Promise((resolve) => {
    const gaps: number[] = [];
    const from = performance.now();
    let last = from;
    const next = (t: number): void => {
      if (last !== from) gaps.push(t - last);
      last = t;
      if (t - from < spanMs) requestAnimationFrame(next);
      else resolve(gaps);
    };
    requestAnimationFrame(next);
  });
}

async function playing(browser: Browser, file: string): Promise<void> {
  const { page } = await openFile(browser, file, {}, watchPaints);
  await page.locator("#drawing").scrollIntoViewIfNeeded();
  await page.locator("#play").scrollIntoViewIfNeeded();
  await quiet();
  const still = await page.evaluate(frames, PLAY_MS / 2);
  await quiet();
  await page.locator("#speed").selectOption("15");
  await page.locator("#play").click();
  const gaps = await page.evaluate(frames, PLAY_MS);
  const dropped = (list: readonly number[]): number =>
    list.reduce((sum, gap) => sum + (gap > 1.5 * FRAME_MS ? Math.round(gap / FRAME_MS) - 1 : 0), 0);
  const rate = (list: readonly number[]): string => (1000 / (list.reduce((a, b) => a + b, 0) / list.length)).toFixed(1);
  say(
    "playing the power cut",
    `${rate(gaps)} frames a second, ${dropped(gaps)} of ${gaps.length} dropped, longest ${Math.max(...gaps).toFixed(1)} ms`,
  );
  say("  the same page at rest, for comparison", `${rate(still)} frames a second, ${dropped(still)} dropped`);
  await page.context().close();
}

const files = makePages();
const browser = await launchChromium();
try {
  console.log(`load of the machine ${loadavg()[0]?.toFixed(2)}; medians of ${PASSES}, each begun when the machine was quiet`);
  for (const [i, file] of files.entries()) {
    console.log(`${SCENARIOS[i]}, 90 days`);
    await opening(browser, file);
    await tryIt(browser, file);
    await playing(browser, file);
  }
} finally {
  await browser.close();
}
