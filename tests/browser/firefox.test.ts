// Page, board and library in a second browser engine: Debian's Firefox, if installed. Otherwise the tests are skipped with
// a reason.
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { fileURLToPath, pathToFileURL } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { boardFile } from "./board-page.ts";
import { type Firefox, findFirefox, launchFirefox } from "./firefox.ts";
import { makePages, type Pages } from "./pages.ts";

const libraryFile = fileURLToPath(new URL("../../dist/browser.js", import.meta.url));
const path = findFirefox();
if (!path)
  console.log("Skipped: the tests in Firefox, since it is not installed here (apt-get install firefox-esr, or FIREFOX=path).");

describe.skipIf(!path)("in Firefox", () => {
  let firefox: Firefox;
  let pages: Pages;
  beforeAll(async () => {
    pages = makePages();
    firefox = await launchFirefox(path!);
    await firefox.resize(1280, 1000);
  }, 120_000);
  afterAll(() => firefox?.close());

  const count = (selector: string): Promise<number> =>
    firefox.run(`return document.querySelectorAll(${JSON.stringify(selector)}).length`);
  const text = (selector: string): Promise<string> =>
    firefox.run(`return document.querySelector(${JSON.stringify(selector)}).textContent`);
  /** All tests of this browser share the storage of the board. */
  const openBoard = async (): Promise<void> => {
    await firefox.open(pathToFileURL(boardFile()).href);
    await firefox.until("return document.querySelector('html.alive #main > *') !== null");
  };

  it("the page answers, plays the power cut, opens its parts, and computes a change", async () => {
    const before = firefox.complaints.length;
    await firefox.open(pathToFileURL(pages.first).href);
    await firefox.until("return document.documentElement.classList.contains('alive')");
    expect(await count("#answer .lead-answer .text")).toBeGreaterThan(1);
    expect(await count("svg.cutaway")).toBeGreaterThan(0);
    await firefox.run("document.querySelector('#play').click()");
    await firefox.until("return Number(document.querySelector('#scrub').value) > Number(document.querySelector('#scrub').min)");
    await firefox.run("document.querySelector('#figures summary').click()");
    await firefox.until("return document.querySelectorAll('#figures table').length > 0");
    const curve = "[data-figure='panel:no3'] path.line, [data-figure='panel:no3'] .s0";
    const drawn = (): Promise<string> => firefox.run("return document.querySelector('[data-figure=\"panel:no3\"]').innerHTML");
    expect(await count(curve)).toBeGreaterThan(0);
    const asInFile = await drawn();
    await firefox.run("document.querySelector('#try').scrollIntoView()");
    await firefox.run(
      "const k = document.querySelector('#knob-temperature'); k.value = '29'; for (const e of ['input', 'change']) k.dispatchEvent(new Event(e, { bubbles: true }))",
    );
    await firefox.until("return /faults included/.test(document.querySelector('#try-state').textContent)", 60_000);
    expect(await drawn()).not.toBe(asInFile);
    expect(firefox.complaints.slice(before)).toEqual([]);
    // Checks that console errors are recorded.
    await firefox.run("console.error('heard')");
    await expect.poll(() => firefox.complaints.slice(before)).toEqual(['console.error: "heard"']);
  }, 120_000);

  it("the library computes the same bits as in Node", async () => {
    const library = await import(pathToFileURL(libraryFile).href);
    const source = readFileSync("scenarios/shipped/first-tank.yaml", "utf8");
    const here = JSON.stringify(await library.run(library.load(source, "first-tank.yaml"), { members: 0 }));
    await firefox.open("about:blank");
    const there = await firefox.runLater<string>(
      `const text = ${JSON.stringify(readFileSync(libraryFile, "utf8"))};
      import(URL.createObjectURL(new Blob([text], { type: "text/javascript" })))
        .then(({ load, run }) => run(load(${JSON.stringify(source)}, "first-tank.yaml"), { members: 0 }))
        .then((result) => done(JSON.stringify(result)), (error) => done(String(error)));`,
    );
    expect(there.slice(0, 200)).toBe(here.slice(0, 200));
    expect(createHash("sha256").update(there).digest("hex")).toBe(createHash("sha256").update(here).digest("hex"));
  }, 120_000);

  it("the board leads from the first screen to an answer, works by keyboard, keeps text and parts in step, and restores its state", async () => {
    const before = firefox.complaints.length;
    await openBoard();
    await firefox.run("document.querySelector('[data-start=first]').click()");
    await firefox.until("return document.querySelector('.questions') !== null");
    await firefox.run("[...document.querySelectorAll('button')].find((b) => b.textContent === 'Skip the questions').click()");
    await firefox.until("return document.querySelector('[data-job=ready]') !== null");
    await firefox.run("document.querySelector('[data-handle=\"sump water\"]').focus()");
    await firefox.run(
      "document.activeElement.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowDown', bubbles: true, cancelable: true }))",
    );
    await firefox.run("document.querySelector('input[name=pane][value=text]').click()");
    await firefox.until("return !!document.querySelector('.text-pane')?.shadowRoot?.querySelector('.cm-line')");
    await firefox.until("return document.querySelector('.text-pane').shadowRoot.textContent.includes('water: 15.9 cm')");
    await firefox.until(
      "return document.querySelector('[data-job=ready]') !== null && document.querySelectorAll('.mend').length === 0",
    );
    await new Promise((resolve) => setTimeout(resolve, 800));
    await openBoard();
    await firefox.until("return document.querySelector('[data-job=ready]') !== null");
    expect(await text(".board-head h1")).toBe("My first tank");
    expect(firefox.complaints.slice(before)).toEqual([]);
  }, 120_000);
});
