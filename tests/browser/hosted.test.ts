// The hosted build of the drawing board, served over loopback as any static host would: it can be installed, and works without a network.
import { readFileSync } from "node:fs";
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { fileURLToPath } from "node:url";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { launchChromium } from "./chromium.ts";

const folder = new URL("../../dist/hosted/", import.meta.url);
const TYPES: Readonly<Record<string, string>> = {
  "index.html": "text/html; charset=utf-8",
  "manifest.webmanifest": "application/manifest+json",
  "icon.svg": "image/svg+xml",
  "sw.js": "text/javascript",
};

/** A static host of one folder; everything else is not found. */
function host(): Promise<Server> {
  const server = createServer((request, response) => {
    const name = (request.url ?? "/").replace(/[?#].*/, "").replace(/^\/board\//, "") || "index.html";
    const type = TYPES[name];
    if (!type) {
      response.writeHead(404).end();
      return;
    }
    response.writeHead(200, { "content-type": type }).end(readFileSync(fileURLToPath(new URL(name, folder))));
  });
  return new Promise((resolve) => server.listen(0, "127.0.0.1", () => resolve(server)));
}

describe("the hosted board", () => {
  let browser: Browser;
  let server: Server;
  let address: string;
  beforeAll(async () => {
    browser = await launchChromium();
    server = await host();
    address = `http://127.0.0.1:${(server.address() as AddressInfo).port}/board/`;
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
    server?.closeAllConnections();
    server?.close();
  });

  it("has a manifest that a browser takes for installing", async () => {
    const context = await browser.newContext();
    const page = await context.newPage();
    await page.goto(address);
    await page.waitForSelector("html.alive");
    const session = await context.newCDPSession(page);
    const { errors, manifest } = await session.send("Page.getAppManifest");
    expect(errors).toEqual([]);
    expect((manifest as { startUrl?: string } | undefined)?.startUrl).toBe(address);
    const { installabilityErrors } = await session.send("Page.getInstallabilityErrors");
    expect(installabilityErrors.map(({ errorId }) => errorId).filter((id) => id !== "in-incognito")).toEqual([]);
    await context.close();
  }, 60_000);

  it("opens, computes and keeps work after the host has gone", async () => {
    const context = await browser.newContext();
    const complaints: string[] = [];
    const page = await context.newPage();
    page.on("console", (m) => complaints.push(m.text()));
    page.on("pageerror", (e) => complaints.push(e.message));
    await page.goto(address);
    await page.waitForSelector("html.alive");
    await page.evaluate(() => navigator.serviceWorker.ready);
    await page.waitForFunction(async () => {
      const names = await caches.keys();
      return names.length === 1 && (await (await caches.open(names[0]!)).keys()).length === 3;
    });
    await page.locator("[data-start=first]").click();
    await page.getByRole("button", { name: "Skip the questions" }).click();
    await page.waitForSelector("[data-job='power cut']");
    await page.waitForTimeout(600);
    server.closeAllConnections();
    await new Promise((resolve) => server.close(resolve));
    await page.reload();
    await page.waitForSelector("[data-job='power cut']");
    await page.waitForSelector("[data-job=ready]");
    expect(await page.locator(".board-head h1").textContent()).toBe("My first tank");
    expect(complaints).toEqual([]);
    await context.close();
  }, 60_000);
});
