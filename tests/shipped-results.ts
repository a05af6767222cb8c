// Results of the shipped scenarios, computed once for all tests of one state of the sources: each with its faults and
// pairs, and with a band of a few members.
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { deserialize, serialize } from "node:v8";
import { loadScenario } from "../scenarios/load/load.ts";
import type { RunResult } from "../scenarios/result/result.ts";
import { runScenario } from "../scenarios/run/run.ts";

const project = fileURLToPath(new URL("../", import.meta.url));
const folder = join(project, "scenarios/shipped");
/** A band has the same form for any number of members; with more than these it only takes longer. */
export const MEMBERS = 6;

/** The files in `scenarios/shipped`. */
export const shipped: readonly string[] = readdirSync(folder).filter((name) => name.endsWith(".yaml"));

/** Hash of everything that a result depends on: all sources, the versions of the packages, and the engine. */
function state(): string {
  const hash = createHash("sha256").update(process.version);
  for (const name of ["package-lock.json"]) hash.update(readFileSync(join(project, name)));
  for (const layer of ["sim", "models", "scenarios"])
    for (const name of readdirSync(join(project, layer), { recursive: true, encoding: "utf8" }).sort())
      if (/\.(?:ts|yaml)$/.test(name)) hash.update(name).update(readFileSync(join(project, layer, name)));
  return hash.digest("hex").slice(0, 16);
}

const DAY_MS = 86_400_000;
const cache = join(project, ".cache/results");
let place: string | undefined;

/** The folder of this state; those that are older than a day are removed. */
function placeOfState(): string {
  if (place) return place;
  const found = join(cache, state());
  mkdirSync(found, { recursive: true });
  for (const other of readdirSync(cache).map((name) => join(cache, name)))
    if (other !== found && Date.now() - (statSync(other, { throwIfNoEntry: false })?.mtimeMs ?? 0) > DAY_MS)
      rmSync(other, { recursive: true, force: true });
  place = found;
  return found;
}

const isAlive = (pid: number): boolean => {
  try {
    return process.kill(pid, 0);
  } catch {
    return false;
  }
};

/** Whether this process may compute a result: the one that makes the folder `lock`, or finds that its maker has died. */
function takes(lock: string): boolean {
  try {
    mkdirSync(lock);
  } catch {
    const maker = Number(readdirSync(lock, { encoding: "utf8" })[0] ?? "0");
    if (maker === 0 || isAlive(maker)) return false;
    rmSync(lock, { recursive: true, force: true });
    return takes(lock);
  }
  writeFileSync(join(lock, `${process.pid}`), "");
  return true;
}

/** The result of a shipped scenario. Test files that run side by side compute it once; it must not be changed. */
export async function shippedResult(name: string): Promise<RunResult> {
  const path = join(placeOfState(), `${name}.bin`);
  const lock = `${path}.lock`;
  while (!existsSync(path)) {
    if (!takes(lock)) {
      await wait(100);
      continue;
    }
    try {
      const source = readFileSync(join(folder, name), "utf8");
      const loaded = loadScenario(source, name);
      if (!loaded.ok) throw new Error(loaded.errors.map((error) => error.problem).join("\n"));
      const result = await runScenario({ ...loaded, source, file: name }, { seed: "1", members: MEMBERS, matrix: true });
      // Unlike JSON, this form keeps numbers that are not finite, which a test looks for.
      writeFileSync(`${path}.${process.pid}`, serialize(result));
      renameSync(`${path}.${process.pid}`, path);
    } finally {
      rmSync(lock, { recursive: true, force: true });
    }
  }
  return deserialize(readFileSync(path)) as RunResult;
}
