// Real pages for the browser tests: written by the built command from scenario files, opened from disk with the network off.
import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import type { Browser, BrowserContextOptions, Page } from "playwright-core";
import type { RunResult } from "../../scenarios/result/result.ts";
import { pageScripts } from "../../viz/assets.ts";
import { renderPage } from "../../viz/report.ts";

const project = dirname(dirname(dirname(fileURLToPath(import.meta.url))));

/** Closes elements, attributes and scripts, and runs code, if a page ever inserts it as markup. */
export const HOSTILE = `</script><script>owned=1</script><img src=x onerror="owned=1">"'&lt;`;

const hostileScenario = `sumpwright: 1
name: ${JSON.stringify(HOSTILE)}
question: ${JSON.stringify(`</title></style><svg onload=owned=1>${HOSTILE}`)}
notes: ${JSON.stringify(`--> ]]> ${HOSTILE}`)}
tank: { outside: 80 x 40 x 45 cm, name: ${JSON.stringify("<b onclick=owned=1>tank</b>")} }
sump: { outside: 60 x 35 x 40 cm, water: 18 cm }
return: { pump: 1500 L/h, outlet: 3 cm, hole: none }
stock:
  - { name: ${JSON.stringify(`<iframe src="javascript:owned=1">`)}, count: 5, mass: 2 g, arrives: day 2 }
timeline:
  - { at: day 3, do: water change, share: 20 %, label: ${JSON.stringify(`<img src=x onerror=owned=1>`)} }
days: 8
`;

export interface Pages {
  readonly first: string;
  readonly hostile: string;
  readonly compared: string;
  readonly result: RunResult;
}

const firstScenario = join(project, "scenarios", "shipped", "first-tank.yaml");

/** Runs the built command into a new folder and renames it, so that parallel test files find complete pages or none. */
function runInto(folder: string, cli: string): void {
  const aside = `${folder}.${process.pid}`;
  mkdirSync(aside, { recursive: true });
  const hostile = join(aside, "hostile-words.yaml");
  writeFileSync(hostile, hostileScenario);
  const options = ["--runs", "6", "--format", "html,json", "--out", aside];
  execFileSync(process.execPath, [cli, "run", firstScenario, hostile, ...options], { stdio: "pipe" });
  try {
    renameSync(aside, folder);
  } catch (error) {
    rmSync(aside, { recursive: true, force: true });
    if (!existsSync(folder)) throw error;
  }
}

/** Pages of this build: the first test file makes them, the others reuse them. */
export function makePages(): Pages {
  const resolved = ["cli.js", "page.js", "page-worker.gz.txt", "page-notices.txt"].map((name) => join(project, "dist", name));
  for (const path of resolved) if (!existsSync(path)) throw new Error(`${path} is missing: npm run build makes it`);
  const hash = createHash("sha256");
  for (const path of [...resolved, firstScenario]) hash.update(readFileSync(path));
  const folder = join(project, ".cache", `test-pages-${hash.update(hostileScenario).digest("hex").slice(0, 16)}`);
  if (!existsSync(folder)) runInto(folder, resolved[0]!);
  const read = (name: string): RunResult => JSON.parse(readFileSync(join(folder, `${name}.json`), "utf8")) as RunResult;
  const result = read("first-tank");
  const { page, ...carried } = pageScripts();
  // Several test files may make it at the same time: each writes its own file and renames it.
  const compared = join(folder, "compared.html");
  writeFileSync(`${compared}.${process.pid}`, renderPage([result, { ...read("hostile-words"), units: "US" }], page, carried));
  renameSync(`${compared}.${process.pid}`, compared);
  return { first: join(folder, "first-tank.html"), hostile: join(folder, "hostile-words.html"), compared, result };
}

export interface Opened {
  readonly page: Page;
  /** Errors and warnings of the console, and uncaught errors. */
  readonly complaints: readonly string[];
  /** All requests of the page, except for itself and data it contains. */
  readonly requests: readonly string[];
}

/** Opens a file with the network off; `first` runs in the page before anything of its own. The caller closes the context. */
export async function openFile(
  browser: Browser,
  path: string,
  options: BrowserContextOptions = {},
  first?: () => void,
): Promise<Opened> {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 900 },
    acceptDownloads: true,
    ...options,
    offline: true,
  });
  const page = await context.newPage();
  if (first) await page.addInitScript(first);
  const complaints: string[] = [];
  const requests: string[] = [];
  const url = pathToFileURL(path).href;
  page.on("console", (m) => {
    if (m.type() === "error" || m.type() === "warning") complaints.push(m.text());
  });
  page.on("pageerror", (e) => complaints.push(e.message));
  page.on("request", (r) => {
    if (r.url() !== url && !r.url().startsWith("blob:")) requests.push(r.url());
  });
  await page.goto(url);
  if (options.javaScriptEnabled !== false) await page.waitForSelector("html.alive");
  return { page, complaints, requests };
}

/** Changes the temperature so often, each time until the first answer is drawn. */
export async function changeOften(page: Page, times: number): Promise<void> {
  for (let i = 0; i < times; i++) {
    await page.locator("#knob-temperature").fill(String(20 + (i % 17) / 2));
    await page.waitForFunction(() => /First answer|Done/.test(document.querySelector("#try-state")?.textContent ?? ""), null, {
      timeout: 60_000,
    });
  }
}
