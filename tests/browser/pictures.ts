// Takes the pictures of the README from real pages. Run: npm run pictures (after npm run build).
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath, pathToFileURL } from "node:url";
import { loadScenario } from "../../scenarios/load.ts";
import { simulate } from "../../scenarios/simulate.ts";
import { pageScripts } from "../../viz/assets.ts";
import { renderPage } from "../../viz/report.ts";
import { launchChromium } from "./chromium.ts";

const at = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const wanted = [
  { name: "fishless-cycle-180", suffix: "day", selector: "#verdict", scheme: "light" },
  { name: "marine-400-power-cut", suffix: "drawing", selector: "#drawing figure", scheme: "light" },
  { name: "marine-400-power-cut", suffix: "night", selector: "#drawing figure", scheme: "dark" },
  { name: "community-all-at-once", suffix: "drawing", selector: "#drawing figure", scheme: "light" },
  { name: "blocked-hole-overfilled", suffix: "drawing", selector: "#drawing figure", scheme: "light" },
] as const;

mkdirSync(at(".cache/pictures"), { recursive: true });
mkdirSync(at("viz/pictures"), { recursive: true });
const browser = await launchChromium();
try {
  for (const { name, suffix, selector, scheme } of wanted) {
    const source = readFileSync(at(`scenarios/${name}.yaml`), "utf8");
    const loaded = loadScenario(source, `${name}.yaml`);
    if (!loaded.ok) throw new Error(loaded.errors.map((error) => error.problem).join("\n"));
    const { page: script, worker } = pageScripts();
    const file = at(`.cache/pictures/${name}.html`);
    writeFileSync(
      file,
      renderPage([await simulate({ ...loaded, source, file: `${name}.yaml` })], script, { workerScript: worker }),
    );
    const page = await browser.newPage({ viewport: { width: 1180, height: 860 }, colorScheme: scheme });
    await page.goto(pathToFileURL(file).href);
    await page.waitForTimeout(500);
    if (selector === "#verdict") await page.screenshot({ path: at(`viz/pictures/${name}-${suffix}.png`) });
    else
      await page
        .locator(selector)
        .first()
        .screenshot({ path: at(`viz/pictures/${name}-${suffix}.png`) });
    await page.close();
    console.log(`viz/pictures/${name}-${suffix}.png`);
  }
} finally {
  await browser.close();
}
