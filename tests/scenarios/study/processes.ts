// The built command as child processes, for tests that interrupt and kill them.
import { type ChildProcess, spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

export const projectFile = (path: string): string => fileURLToPath(new URL(`../../../${path}`, import.meta.url));
const CLI = projectFile("dist/cli.js");
export const FILLS = projectFile("tests/scenarios/study/data/fills.yaml");

/** Version and build of the built command, as recorded in studies. */
export const programId = (): string => {
  const { version } = JSON.parse(readFileSync(projectFile("package.json"), "utf8")) as { version: string };
  const hash = createHash("sha256")
    .update(readFileSync(projectFile("dist/study-worker.js")))
    .digest("hex");
  return `${version}+${hash.slice(0, 8)}`;
};

export interface Running {
  readonly child: ChildProcess;
  /** Exit code (null after a kill) and all output. */
  readonly done: Promise<{ readonly code: number | null; readonly text: string }>;
  /** Output so far. */
  readonly printed: () => string;
}

export function program(
  args: readonly string[],
  environment: NodeJS.ProcessEnv = {},
  command: readonly string[] = [CLI],
): Running {
  if (!existsSync(CLI)) throw new Error("dist/cli.js is missing: npm run build makes it");
  const child = spawn(process.execPath, [...command, ...args], { env: { ...process.env, ...environment } });
  let text = "";
  child.stdout.on("data", (chunk: Buffer) => {
    text += chunk.toString();
  });
  child.stderr.on("data", (chunk: Buffer) => {
    text += chunk.toString();
  });
  return {
    child,
    printed: () => text,
    done: new Promise((resolve) => child.on("close", (code) => resolve({ code, text }))),
  };
}

export const wait = (seconds: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, seconds * 1000));

/** Waits for a condition. @throws Error after the given time */
export async function until(what: string, isSo: () => boolean | Promise<boolean>, seconds = 60): Promise<void> {
  const begun = performance.now();
  while (!(await isSo())) {
    if (performance.now() - begun > seconds * 1000) throw new Error(`${what}: not within ${seconds} s`);
    await wait(0.05);
  }
}
