// The command `open`: access only from this machine and only with the full address; the file is complete at every moment.
import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";

const TEXT = readFileSync("scenarios/shipped/first-tank.yaml", "utf8");
let child: ChildProcess | null = null;
let folder = "";
afterEach(() => {
  child?.kill("SIGKILL");
  if (folder) rmSync(folder, { recursive: true, force: true });
});

async function start(): Promise<{ url: string; file: string }> {
  if (!existsSync("dist/cli.js")) throw new Error("dist/cli.js is missing: npm run build makes it");
  folder = mkdtempSync(join(tmpdir(), "sumpwright-open-"));
  const file = join(folder, "mine.yaml");
  writeFileSync(file, TEXT);
  child = spawn(process.execPath, ["dist/cli.js", "open", file, "--no-browser"], { stdio: ["ignore", "pipe", "pipe"] });
  const url = await new Promise<string>((resolve, reject) => {
    let said = "";
    child!.stdout!.on("data", (data: Buffer) => {
      said += data.toString();
      const found = /http:\S+/.exec(said)?.[0];
      if (found) resolve(found);
    });
    child!.once("exit", () => reject(new Error(`ended before it said where: ${said}`)));
  });
  return { url, file };
}

/** Status of a request with headers that a page in a browser cannot set. */
const status = (url: string, headers: Record<string, string>): Promise<number> =>
  new Promise((resolve, reject) => {
    request(url, { headers }, (answer) => {
      answer.resume();
      resolve(answer.statusCode ?? 0);
    })
      .on("error", reject)
      .end();
  });

describe("open", () => {
  it("serves the page and the file only to requests with the full address", async () => {
    const { url, file } = await start();
    const { host, origin } = new URL(url);
    expect(host).toMatch(/^127\.0\.0\.1:\d+$/);
    expect(await (await fetch(url)).text()).toContain('id="board"');
    expect(await (await fetch(`${url}file`)).json()).toEqual({ name: "mine.yaml", text: TEXT });
    for (const path of ["/", "/file", "/AAAAAAAAAAAAAAAAAAAAAAAA/file", `${new URL(url).pathname}../file`])
      expect((await fetch(origin + path)).status, path).toBe(404);
    expect(await status(url, { host: "example.org" })).toBe(403);
    expect(await status(`${url}file`, { host, origin: "http://example.org" })).toBe(403);
    const changed = `${TEXT}days: 30\n`;
    expect((await fetch(`${url}file`, { method: "PUT", body: changed })).status).toBe(200);
    expect(readFileSync(file, "utf8")).toBe(changed);
    expect(
      (await fetch(`${url}file`, { method: "PUT", body: "x".repeat(5_000_000) }).catch(() => ({ status: 413 }))).status,
    ).toBe(413);
    expect(readFileSync(file, "utf8")).toBe(changed);
  });

  it("notifies the page when the file changes, and ends with Ctrl-C", async () => {
    const { url, file } = await start();
    const stream = (await fetch(`${url}changes`)).body!.getReader();
    const decoder = new TextDecoder();
    await stream.read();
    writeFileSync(file, `${TEXT}days: 21\n`);
    expect(decoder.decode((await stream.read()).value)).toContain("days: 21");
    await stream.cancel();
    const ended = new Promise((resolve) => child!.once("exit", resolve));
    child!.kill("SIGINT");
    expect(await ended).toBe(0);
  });

  it("reports a missing file", async () => {
    child = spawn(process.execPath, ["dist/cli.js", "open", "no-such.yaml", "--no-browser"], { stdio: "pipe" });
    expect(await new Promise((resolve) => child!.once("exit", resolve))).toBe(2);
  });
});
