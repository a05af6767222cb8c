// Measures studies: `npx tsx tests/bench/study-runs.ts [points] [case ...]`, cases being 1, 2 (threads here), queue-1,
// queue-2, queue-4. Prints processor seconds besides wall time, because they depend little on other work of the
// machine. Linux only.
import { spawn } from "node:child_process";
import { mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { startPostgres } from "../scenarios/study/postgres.ts";
import { projectFile } from "../scenarios/study/processes.ts";

const [points = "1000", ...asked] = process.argv.slice(2);
const runs = asked.length > 0 ? asked : ["1", "2", "queue-1", "queue-2", "queue-4"];
const folder = projectFile(".cache/bench-study");
rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });
const file = join(folder, "run-in.yaml");
writeFileSync(
  file,
  readFileSync(projectFile("tests/scenarios/study/data/run-in.yaml"), "utf8")
    .replace("../../../../scenarios", projectFile("scenarios"))
    .replace("points: 10000", `points: ${points}`),
);

interface Used {
  readonly code: number | null;
  readonly cpuS: number;
  readonly peakMB: number;
}

/** Processor time of a process so far, and its largest resident set. */
function usage(processId: number): { readonly cpuS: number; readonly peakMB: number } | null {
  try {
    const fields = readFileSync(`/proc/${processId}/stat`, "utf8")
      .replace(/^.*\) /, "")
      .split(" ");
    const peak = /VmHWM:\s+(\d+)/.exec(readFileSync(`/proc/${processId}/status`, "utf8"));
    return { cpuS: (Number(fields[11]) + Number(fields[12])) / 100, peakMB: Number(peak?.[1] ?? 0) / 1024 };
  } catch {
    return null;
  }
}

function command(
  args: readonly string[],
  environment: NodeJS.ProcessEnv,
): { readonly done: Promise<Used>; readonly stop: () => void } {
  const child = spawn(process.execPath, [projectFile("dist/cli.js"), ...args], {
    env: { ...process.env, ...environment },
    stdio: "ignore",
  });
  let last = { cpuS: 0, peakMB: 0 };
  const timer = setInterval(() => {
    // A process that has ended and is not yet collected has no memory left: the highest seen counts.
    const now = usage(child.pid!);
    if (now) last = { cpuS: Math.max(now.cpuS, last.cpuS), peakMB: Math.max(now.peakMB, last.peakMB) };
  }, 100);
  return {
    stop: () => child.kill("SIGTERM"),
    done: new Promise((resolve) =>
      child.on("close", (code) => {
        clearInterval(timer);
        resolve({ code, ...last });
      }),
    ),
  };
}

/** Processor seconds of all server processes. */
function serverCpuS(port: string): number {
  let sum = 0;
  const parent = Number(
    readFileSync(join(`/proc/${process.pid}/task/${process.pid}/children`), "utf8")
      .trim()
      .split(" ")[0],
  );
  void port;
  for (const id of [parent, ...readFileSync(`/proc/${parent}/task/${parent}/children`, "utf8").trim().split(" ").map(Number)])
    sum += usage(id)?.cpuS ?? 0;
  return sum;
}

console.log(`${points} points`);
for (const run of runs) {
  const out = join(folder, run);
  const queue = /^queue-(\d+)$/.exec(run);
  const database = queue ? await startPostgres() : null;
  const environment = database ? { SUMPWRIGHT_QUEUE: database.url } : {};
  const begun = performance.now();
  const workers = Array.from({ length: Number(queue?.[1] ?? 0) }, () =>
    command(["worker", "--threads", "1", "--quiet"], environment),
  );
  const study = command(
    ["study", file, "--out", out, "--pages", "0", "--quiet", ...(queue ? ["--queue"] : ["--threads", run])],
    environment,
  );
  const used = await study.done;
  const seconds = (performance.now() - begun) / 1000;
  const server = database ? serverCpuS(database.url) : 0;
  for (const { stop } of workers) stop();
  const others = await Promise.all(workers.map(({ done }) => done));
  const cpu = used.cpuS + server + others.reduce((sum, { cpuS }) => sum + cpuS, 0);
  const files = ["parquet", "csv", ...(queue ? [] : ["points"])]
    .map((end) => `${end} ${statSync(join(out, `run-in.${end}`)).size}`)
    .join(", ");
  console.log(
    `${run}: exit ${used.code}, ${seconds.toFixed(1)} s by the clock (${(Number(points) / seconds).toFixed(1)} points a second), ` +
      `${cpu.toFixed(1)} s of processor (client ${used.cpuS.toFixed(1)}, workers ${others.map(({ cpuS }) => cpuS.toFixed(1)).join(" + ") || "in it"}, server ${server.toFixed(1)}), ` +
      `peak ${used.peakMB.toFixed(0)} MB${others.length > 0 ? `, workers ${Math.max(...others.map(({ peakMB }) => peakMB)).toFixed(0)} MB` : ""}; bytes: ${files}`,
  );
  if (database) {
    const [size] = await database.query<{ points: string; jobs: string }>(
      "select pg_total_relation_size('sumpwright.point') as points, pg_database_size(current_database()) as jobs",
    );
    console.log(`  database: ${size.points} bytes of points with their index, ${size.jobs} in all`);
    await database.stop();
  }
}
