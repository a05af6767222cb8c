// Takes the pictures of the README from real pages. Run: npm run pictures (after npm run build).
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { fileURLToPath, pathToFileURL } from "node:url";
import type { Browser, Page } from "playwright-core";
import { loadScenario } from "../../scenarios/load/load.ts";
import type { RunResult } from "../../scenarios/result/result.ts";
import { run } from "../../scenarios/run/library.ts";
import { pageScripts } from "../../viz/assets.ts";
import { renderPage } from "../../viz/report.ts";
import { begin, openBoard } from "./board-page.ts";
import { launchChromium } from "./chromium.ts";

const at = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const PICTURES = "viz/pictures";

type Story = RunResult["hydraulics"]["stories"][number];

/** Moments of the pictures: while everything runs, and at rest after the pump has stopped. */
const running = (): number => 0;
const atRest = (story: Story): number => {
  const back = story.events.find(({ id }) => id === "power back")?.s;
  return back === undefined ? story.timeS.at(-1)! : back - 0.1;
};

interface Shot {
  readonly name: string;
  readonly story: number;
  readonly moment: (story: Story) => number;
}

/** Three scenarios, each before and after the pump stops. */
const PAIRS: readonly { readonly scenario: string; readonly shots: readonly [Shot, Shot] }[] = [
  {
    scenario: "marine-400-power-cut",
    shots: [
      { name: "running", story: 0, moment: running },
      { name: "at-rest", story: 0, moment: atRest },
    ],
  },
  {
    scenario: "deep-return-check-valve",
    shots: [
      { name: "running", story: 0, moment: running },
      { name: "at-rest", story: 0, moment: atRest },
    ],
  },
  {
    scenario: "client-750",
    shots: [
      { name: "at-rest", story: 0, moment: atRest },
      { name: "worst-fault", story: 1, moment: atRest },
    ],
  },
];

async function openPage(
  browser: Browser,
  scenario: string,
  scheme: "light" | "dark",
): Promise<{ page: Page; result: RunResult }> {
  const source = readFileSync(at(`scenarios/shipped/${scenario}.yaml`), "utf8");
  const loaded = loadScenario(source, `${scenario}.yaml`);
  if (!loaded.ok) throw new Error(loaded.errors.map((error) => error.problem).join("\n"));
  const result = await run({ ...loaded, source, file: `${scenario}.yaml` });
  const { page: script, ...carried } = pageScripts();
  const file = at(`.cache/pictures/${scenario}.html`);
  writeFileSync(file, renderPage([result], script, carried));
  const page = await browser.newPage({ viewport: { width: 1180, height: 860 }, colorScheme: scheme });
  await page.goto(pathToFileURL(file).href);
  await page.waitForSelector("html.alive");
  await page.waitForTimeout(500);
  return { page, result };
}

const drawing = (page: Page) => page.locator("#drawing [data-figure=cutaway]");

async function take(page: Page, result: RunResult, { name, story, moment }: Shot, scenario: string): Promise<void> {
  const told = result.hydraulics.stories[story];
  if (!told) throw new Error(`${scenario} tells no story ${story}`);
  await page.locator("#story").selectOption(told.id);
  await page.locator("#scrub").evaluate((scrub, s) => {
    (scrub as HTMLInputElement).value = String(s);
    scrub.dispatchEvent(new Event("input", { bubbles: true }));
  }, moment(told));
  const path = `${PICTURES}/${scenario}-${name}.png`;
  await drawing(page).screenshot({ path: at(path) });
  console.log(path);
}

/** Pictures of the drawing board: the start page, the board, a part on a phone. */
async function board(browser: Browser): Promise<void> {
  const wide = await openBoard(browser, { viewport: { width: 1360, height: 900 } });
  await wide.page.screenshot({ path: at(`${PICTURES}/board-begin.png`) });
  await begin(wide.page, "tower");
  await wide.page.locator("[data-job=ready]").waitFor();
  await wide.page.locator("[data-path='sump']").click();
  await wide.page.waitForTimeout(800);
  await wide.page.screenshot({ path: at(`${PICTURES}/board-tower.png`) });
  await wide.context.close();
  const phone = await openBoard(browser, { viewport: { width: 390, height: 844 }, hasTouch: true });
  await begin(phone.page, "first");
  await phone.page.locator("[data-job=ready]").waitFor();
  await phone.page.locator(".drawing").scrollIntoViewIfNeeded();
  await phone.page.waitForTimeout(500);
  await phone.page.screenshot({ path: at(`${PICTURES}/board-phone.png`) });
  await phone.context.close();
}

mkdirSync(at(".cache/pictures"), { recursive: true });
mkdirSync(at(PICTURES), { recursive: true });
for (const old of readdirSync(at(PICTURES))) rmSync(at(`${PICTURES}/${old}`));
const browser = await launchChromium();
try {
  await board(browser);
  const top = await openPage(browser, "fishless-cycle-180", "light");
  await top.page.screenshot({ path: at(`${PICTURES}/fishless-cycle-180-top.png`) });
  const curves = top.page.locator("#curves .stack");
  await curves.screenshot({ path: at(`${PICTURES}/fishless-cycle-180-curves.png`) });
  for (const { scenario, shots } of PAIRS) {
    const { page, result } = await openPage(browser, scenario, "light");
    for (const shot of shots) await take(page, result, shot, scenario);
    await page.close();
  }
  const night = await openPage(browser, "four-tanks-one-sump", "dark");
  await drawing(night.page).screenshot({ path: at(`${PICTURES}/four-tanks-one-sump-night.png`) });
} finally {
  await browser.close();
}
