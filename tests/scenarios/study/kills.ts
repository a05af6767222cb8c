// Kills workers and the client of a queue at random and restarts the server; the result must not change. The suite uses a short
// form, `npx tsx tests/scenarios/study/kill-workers.ts 20` the long one.
import { join } from "node:path";
import type { TestDatabase } from "./postgres.ts";
import { FILLS, program, type Running, until, wait } from "./processes.ts";

export interface Kills {
  /** Workers killed by SIGKILL. */
  readonly workers: number;
  /** Clients killed by SIGKILL and restarted. */
  readonly clients: number;
  readonly restarts: number;
}

const LOST_AFTER = "3";

/**
 * Runs the study to its end through a queue with two workers, while processes are killed.
 * @returns the last output of the client, and the points done at each kill
 */
export async function runWithKills(
  database: TestDatabase,
  folder: string,
  kills: Kills,
  random: () => number,
  file = FILLS,
): Promise<{ readonly text: string; readonly diedAt: readonly number[] }> {
  const environment = { SUMPWRIGHT_QUEUE: database.url };
  const queue = ["--queue", "--lost-after", LOST_AFTER];
  const worker = (): Running => program(["worker", ...queue, "--threads", "1"], environment);
  const client = (): Running => program(["study", file, "--out", folder, "--pages", "0", ...queue], environment);
  const done = async (): Promise<number> => {
    try {
      const [row] = await database.query<{ count: string }>("select count(*) from sumpwright.point");
      return Number(row.count);
    } catch {
      return 0;
    }
  };
  const workers = [worker(), worker()];
  let asking = client();
  const diedAt: number[] = [];
  const deaths = [
    ...Array.from({ length: kills.workers }, () => "worker" as const),
    ...Array.from({ length: kills.clients }, () => "client" as const),
    ...Array.from({ length: kills.restarts }, () => "server" as const),
  ].sort(() => random() - 0.5);
  try {
    await until("the first points", async () => (await done()) > 0);
    for (const death of deaths) {
      const before = await done();
      await until("more points", async () => (await done()) > before || asking.child.exitCode !== null);
      await wait(0.5 * random());
      diedAt.push(await done());
      if (death === "server") await database.restart(0.3);
      else if (death === "client") {
        asking.child.kill("SIGKILL");
        await asking.done;
        asking = client();
      } else {
        const at = Math.floor(random() * workers.length);
        workers[at].child.kill("SIGKILL");
        await workers[at].done;
        workers[at] = worker();
      }
    }
    const { code, text } = await asking.done;
    if (code !== 0) throw new Error(`the client ended with ${code}: ${text}`);
    return { text, diedAt };
  } finally {
    asking.child.kill("SIGKILL");
    for (const { child } of workers) child.kill("SIGTERM");
    await Promise.all([asking.done, ...workers.map(({ done }) => done)]);
  }
}

export const outputsIn = (folder: string): readonly string[] =>
  ["fills.parquet", "fills.csv", "fills.csv-metadata.json", "fills.html"].map((name) => join(folder, name));
