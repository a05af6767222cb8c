// Overhead of a queue job besides its points: `npx tsx tests/bench/queue-jobs.ts [jobs] [points of a job]`. No point is
// run; invented numbers are stored. Measures the processor time of worker and server from /proc (Linux only), which
// depends little on other work.
import { readFileSync } from "node:fs";
import type { Batch } from "../../scenarios/study/batch.ts";
import { StudyQueue } from "../../scenarios/study/node-queue.ts";
import { prepareStudy } from "../../viz/cli-study.ts";
import { startPostgres } from "../scenarios/study/postgres.ts";
import { projectFile } from "../scenarios/study/processes.ts";

const [jobs, each] = process.argv
  .slice(2)
  .map(Number)
  .concat([200, 50].slice(process.argv.length - 2));
const children = (id: number): readonly number[] =>
  readFileSync(`/proc/${id}/task/${id}/children`, "utf8").trim().split(" ").filter(Boolean).map(Number);
const cpuOf = (id: number): number => {
  const fields = readFileSync(`/proc/${id}/stat`, "utf8")
    .replace(/^.*\) /, "")
    .split(" ");
  // Own time and that of terminated children.
  return [11, 12, 13, 14].reduce((sum, i) => sum + Number(fields[i]), 0) / 100;
};

const database = await startPostgres();
const server = children(process.pid).find((id) => readFileSync(`/proc/${id}/cmdline`, "utf8").includes("postgres"))!;
const serverCpu = (): number => [server, ...children(server)].reduce((sum, id) => sum + cpuOf(id), 0);
const { study, setup, id } = prepareStudy(projectFile("tests/scenarios/study/data/run-in.yaml"));
const queue = await StudyQueue.open({
  url: database.url,
  lostAfter: 60,
  signal: new AbortController().signal,
  say: console.error,
});
await queue.enter(id, "bench", study, setup);
const row = Float64Array.from(setup.columns, () => 1.234567890123456);
let begun = { clock: performance.now(), own: process.cpuUsage(), server: serverCpu() };
const lap = (what: string, count: number): void => {
  const own = process.cpuUsage(begun.own);
  const ms = [performance.now() - begun.clock, (own.user + own.system) / 1000, (serverCpu() - begun.server) * 1000].map((x) =>
    (x / count).toFixed(2),
  );
  console.log(`${what}: ${ms[0]} ms by the clock, ${ms[1]} ms of processor here, ${ms[2]} ms in the server`);
  begun = { clock: performance.now(), own: process.cpuUsage(), server: serverCpu() };
};
await queue.addMissingJobs(id, jobs * each, each);
lap("putting in, for each job", jobs);
for (let n = 0; n < jobs; n++) {
  const job = (await queue.nextJob(id, study.points))!;
  const batch: Batch = { from: job.from, rows: Array.from({ length: job.to - job.from }, () => row) };
  await queue.store(id, study, batch, job);
}
lap(`taking, storing ${each} points and completing, for each job`, jobs);
for await (const _ of queue.batches(id, jobs * each, setup.columns.length)) void _;
lap("reading back, for each point", jobs * each);
const [size] = await database.query<{ points: string; wal: string }>(
  "select pg_total_relation_size('sumpwright.point') as points, pg_wal_lsn_diff(pg_current_wal_lsn(), '0/0') as wal",
);
console.log(
  `${(Number(size.points) / (jobs * each)).toFixed(0)} bytes of database for a point of ${study.inputs.length} inputs and ${setup.columns.length} numbers`,
);
await queue.close();
await database.stop();
