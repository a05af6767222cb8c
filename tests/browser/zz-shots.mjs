// usage: node --import tsx shots.mjs OUTDIR SPEC...   SPEC = scenario[:look[:selector]]  look: wide phone dark print
import { readFileSync, writeFileSync, mkdirSync } from "node:fs";
import { pathToFileURL } from "node:url";
const root = "/work/wt/page";
const { renderPage } = await import(`${root}/viz/report.ts`);
const { pageScripts } = await import(`${root}/viz/assets.ts`);
const { launchChromium } = await import(`${root}/tests/browser/chromium.ts`);
const [out, ...specs] = process.argv.slice(2);
mkdirSync(out, { recursive: true });
const base = process.env.BASE ?? "/tmp/page/now";
const { page: script, ...carried } = pageScripts();
const options = carried;
const read = (n) => JSON.parse(readFileSync(`${base}/${n}.json`, "utf8"));
const COMPARED = ["community-few","community-all-at-once","community-in-four-lots"];
const made = new Map();
function pageOf(name) {
  if (!made.has(name)) {
    const html = renderPage(name === "compared" ? COMPARED.map(read) : [read(name)], script, options);
    writeFileSync(`${out}/${name}.html`, html);
    made.set(name, html.length);
    console.log(name, html.length);
  }
  return pathToFileURL(`${out}/${name}.html`).href;
}
const browser = await launchChromium();
for (const spec of specs) {
  const [name, look = "wide", selector = "", act = ""] = spec.split(":");
  const phone = look.startsWith("phone");
  const context = await browser.newContext({ viewport: phone ? { width: 390, height: 844 } : { width: 1280, height: 900 }, hasTouch: phone, colorScheme: look.includes("dark") ? "dark" : "light", offline: true });
  const page = await context.newPage();
  page.on("console", (m) => { if (["error","warning"].includes(m.type())) console.log(spec, "CONSOLE", m.text().slice(0, 200)); });
  page.on("pageerror", (e) => console.log(spec, "ERROR", e.message, e.stack?.slice(0,300)));
  await page.goto(pageOf(name));
  await page.waitForSelector("html.alive");
  await page.waitForTimeout(400);
  if (act) { await page.evaluate(act.replaceAll("§", ":")); await page.waitForTimeout(500); }
  const file = `${out}/${name}-${look}${selector ? "-" + selector.replace(/\W+/g, "") : ""}.png`;
  if (look === "pdf") { await page.pdf({ path: file.replace(".png", ".pdf"), preferCSSPageSize: true }); }
  else if (selector === "full") await page.screenshot({ path: file, fullPage: true });
  else if (selector) await page.locator(selector).first().screenshot({ path: file });
  else await page.screenshot({ path: file });
  await context.close();
}
await browser.close();
