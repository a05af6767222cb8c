// Controls the system's Firefox over Marionette, its built-in protocol: JSON over a local socket.
import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { connect, type Socket } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";

const PLACES = ["/usr/bin/firefox-esr", "/usr/bin/firefox"] as const;

/** Path of Firefox: FIREFOX if set, otherwise that of the system; null if there is none. */
export function findFirefox(): string | null {
  const asked = process.env.FIREFOX;
  if (asked && !existsSync(asked)) throw new Error(`FIREFOX names ${asked}, and there is no such file`);
  return asked || (PLACES.find((path) => existsSync(path)) ?? null);
}

/** No background requests, no prompts; console output of pages goes to standard output. */
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
  /** Runs a function body in the page and returns its result. */
  run<T>(script: string): Promise<T>;
  /** Runs an asynchronous function body that calls `done` with its result. */
  runLater<T>(script: string): Promise<T>;
  /** Repeats a function body until it returns a truthy value. */
  until(script: string, mostMs?: number): Promise<void>;
  resize(width: number, height: number): Promise<void>;
  /** PNG of the page. */
  screenshot(whole?: boolean): Promise<Uint8Array>;
  /** Errors and warnings that pages wrote to the console. */
  readonly complaints: readonly string[];
  close(): Promise<void>;
}

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

/** Reads the port, which the browser writes to the profile when it listens. */
async function portOf(profile: string, browser: ChildProcess): Promise<number> {
  const file = join(profile, "MarionetteActivePort");
  for (let i = 0; i < 600; i++) {
    if (browser.exitCode !== null) throw new Error(`Firefox ended with ${browser.exitCode} before it listened`);
    if (existsSync(file)) return Number(readFileSync(file, "utf8"));
    await pause(100);
  }
  throw new Error("Firefox did not listen within a minute");
}

/** Messages are `length:[type, id, ...]` (Marionette protocol 3): 0 is a request, 1 a response with an error and a value. */
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
      // The first message is only the greeting of the browser.
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

/** Starts Firefox headless with a new profile. The caller closes it. */
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
    // Messages of the browser's own services (RSLoader, chrome:, resource:) do not come from the page.
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
