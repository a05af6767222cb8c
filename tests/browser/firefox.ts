// Drives the system's Firefox over Marionette, the protocol that every Firefox has built in: JSON over a socket of this machine.
import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { connect, type Socket } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";

const PLACES = ["/usr/bin/firefox-esr", "/usr/bin/firefox"] as const;

/** The path of a Firefox: FIREFOX if set, else the system's; null when there is none. */
export function findFirefox(): string | null {
  const asked = process.env.FIREFOX;
  if (asked && !existsSync(asked)) throw new Error(`FIREFOX names ${asked}, and there is no such file`);
  return asked || (PLACES.find((path) => existsSync(path)) ?? null);
}

/** Nothing is fetched, nothing is asked, and what pages write to the console goes to standard output. */
const PREFERENCES: Readonly<Record<string, string | number | boolean>> = {
  "marionette.port": 0,
  "devtools.console.stdout.content": true,
  "devtools.console.stdout.chrome": false,
  "browser.dom.window.dump.enabled": true,
  "services.settings.server": "data:,none",
  "network.proxy.type": 1,
  "network.proxy.socks": "127.0.0.1",
  "network.proxy.socks_port": 9,
  "network.proxy.allow_hijacking_localhost": true,
  "app.update.disabledForTesting": true,
  "datareporting.policy.dataSubmissionEnabled": false,
  "toolkit.telemetry.reportingpolicy.firstRun": false,
  "browser.shell.checkDefaultBrowser": false,
  "remote.prefs.recommended": true,
};

export interface Firefox {
  open(url: string): Promise<void>;
  /** Runs the body of a function in the page and gives what it returns. */
  run<T>(script: string): Promise<T>;
  /** Runs the body of a function that calls `done` with its result later. */
  runLater<T>(script: string): Promise<T>;
  /** Runs it again and again until it returns something true. */
  until(script: string, mostMs?: number): Promise<void>;
  resize(width: number, height: number): Promise<void>;
  /** PNG of the page. */
  screenshot(whole?: boolean): Promise<Uint8Array>;
  /** Errors and warnings that pages wrote to the console. */
  readonly complaints: readonly string[];
  close(): Promise<void>;
}

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

/** The port is written into the profile when the browser listens. */
async function portOf(profile: string, browser: ChildProcess): Promise<number> {
  const file = join(profile, "MarionetteActivePort");
  for (let i = 0; i < 600; i++) {
    if (browser.exitCode !== null) throw new Error(`Firefox ended with ${browser.exitCode} before it listened`);
    if (existsSync(file)) return Number(readFileSync(file, "utf8"));
    await pause(100);
  }
  throw new Error("Firefox did not listen within a minute");
}

/** Messages are `length:[type, id, ...]` (Marionette protocol 3): 0 asks, 1 answers with an error and a value. */
function conversation(socket: Socket): (command: string, parameters?: object) => Promise<unknown> {
  const waiting = new Map<number, { resolve: (value: unknown) => void; reject: (error: Error) => void }>();
  let unread = Buffer.alloc(0);
  let id = 0;
  socket.on("data", (data) => {
    unread = Buffer.concat([unread, data]);
    for (;;) {
      const colon = unread.indexOf(":");
      const length = Number(unread.subarray(0, Math.max(colon, 0)).toString());
      if (colon < 0 || unread.length < colon + 1 + length) return;
      const message = JSON.parse(unread.subarray(colon + 1, colon + 1 + length).toString());
      unread = unread.subarray(colon + 1 + length);
      // The first message only introduces the browser.
      if (!Array.isArray(message)) continue;
      const [, of, error, value] = message as [number, number, { message: string } | null, unknown];
      const asked = waiting.get(of);
      waiting.delete(of);
      if (error) asked?.reject(new Error(error.message));
      else asked?.resolve(value);
    }
  });
  return (command, parameters = {}) =>
    new Promise((resolve, reject) => {
      waiting.set(++id, { resolve, reject });
      const text = JSON.stringify([0, id, command, parameters]);
      socket.write(`${Buffer.byteLength(text)}:${text}`);
    });
}

/** Starts Firefox without a window, in a profile of its own. The caller closes it. */
export async function launchFirefox(path: string): Promise<Firefox> {
  const profile = mkdtempSync(join(tmpdir(), "sumpwright-firefox-"));
  const lines = Object.entries(PREFERENCES).map(([name, value]) => `user_pref("${name}", ${JSON.stringify(value)});\n`);
  writeFileSync(join(profile, "user.js"), lines.join(""));
  const browser = spawn(path, ["--headless", "--marionette", "--no-remote", "--profile", profile], {
    stdio: ["ignore", "pipe", "ignore"],
    env: { ...process.env, HOME: profile, MOZ_HEADLESS: "1" },
  });
  const complaints: string[] = [];
  browser.stdout.setEncoding("utf8").on("data", (text: string) => {
    // What the browser says of its own services (RSLoader, chrome:, resource:) is not the page's.
    for (const line of text.split("\n"))
      if (/^(console\.(error|warn|assert): (?!RSLoader)|JavaScript error: (file|blob|http):)/.test(line)) complaints.push(line);
  });
  const socket = connect(await portOf(profile, browser), "127.0.0.1");
  const send = conversation(socket);
  await send("WebDriver:NewSession", { capabilities: { alwaysMatch: { acceptInsecureCerts: false } } });
  const value = async (command: string, parameters: object): Promise<unknown> =>
    ((await send(command, parameters)) as { value: unknown }).value;
  const run = <T>(script: string): Promise<T> =>
    value("WebDriver:ExecuteScript", { script, args: [], sandbox: null, newSandbox: false }) as Promise<T>;
  return {
    complaints,
    run,
    runLater: <T>(script: string) =>
      value("WebDriver:ExecuteAsyncScript", {
        script: `const done = arguments[0]; ${script}`,
        args: [],
        sandbox: null,
        newSandbox: false,
        scriptTimeout: 90_000,
      }) as Promise<T>,
    async open(url) {
      await send("WebDriver:Navigate", { url });
    },
    async until(script, mostMs = 30_000) {
      const end = Date.now() + mostMs;
      while (!(await run(script))) {
        if (Date.now() > end) throw new Error(`not within ${mostMs} ms: ${script}`);
        await pause(50);
      }
    },
    async resize(width, height) {
      await send("WebDriver:SetWindowRect", { width, height });
    },
    async screenshot(whole = false) {
      return Buffer.from(String(await value("WebDriver:TakeScreenshot", { full: whole })), "base64");
    },
    async close() {
      const ended = new Promise((resolve) => browser.once("exit", resolve));
      socket.end();
      browser.kill();
      await ended;
      rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
    },
  };
}
