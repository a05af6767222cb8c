// How the cost of the reference problem grows with days, cells and ensemble members, and its memory use.

import { runEnsemble } from "../../sim/ensemble/ensemble.ts";
import { nodePool } from "../../sim/ensemble/node-pool.ts";
import type { Integrator } from "../../sim/integrators/integrator.ts";
import { aquariumCase, referenceCase, runCase, stiffSolver } from "./cases.ts";
import { memberPoints } from "./member.ts";
import { leastTime } from "./rows.ts";

export function costByDays(): void {
  console.log("Cost by days (rtol 1e-4, 52 states):");
  const perDay = [90, 365, 3650].map((days) => {
    const bench = aquariumCase(4, days);
    const solver = stiffSolver(bench, 1e-4);
    const start = performance.now();
    runCase(bench, solver);
    const wallMs = days > 1000 ? performance.now() - start : leastTime(() => runCase(bench, solver), 1000);
    console.log(`  ${days} d: ${wallMs.toFixed(1)} ms, ${((1000 * wallMs) / days).toFixed(0)} µs a day`);
    return wallMs / days;
  });
  console.log(`  a day of ten years costs ${(perDay[2] / perDay[0]).toFixed(2)} times a day of 90\n`);
}

export function costByCells(): void {
  console.log("Cost by cells (rtol 1e-4, 10 d):");
  const times = [4, 8, 16, 32, 64].map((cells) => {
    const bench = aquariumCase(cells, 10);
    const begun = performance.now();
    const solver = stiffSolver(bench, 1e-4);
    const symbolic = performance.now() - begun;
    const wallMs = leastTime(() => runCase(bench, solver), 1000);
    const counted = stiffSolver(bench, 1e-4);
    runCase(bench, counted);
    const { size } = bench.problem;
    const { steps } = counted.statistics;
    console.log(`  ${cells} cells, ${size} states: ${wallMs.toFixed(1)} ms, ${steps} steps, set-up ${symbolic.toFixed(1)} ms`);
    return wallMs;
  });
  console.log(`  exponent from 4 to 64 cells: ${(Math.log(times[4] / times[0]) / Math.log(16)).toFixed(2)}\n`);
}

export async function ensembles(): Promise<void> {
  console.log("Ensemble of the reference problem (90 d, rtol 1e-4):");
  const one = await ensemble(1, 300);
  await ensemble(2, 300);
  const two = await ensemble(2, 1000);
  console.log(`  two workers do ${(two / one).toFixed(2)} times the work of one\n`);
}

/** @returns members per second */
async function ensemble(threads: number, members: number): Promise<number> {
  const pool = nodePool<{ relative: number }>(new URL("./member-worker.ts", import.meta.url), threads);
  const request = { pool, setup: { relative: 1e-4 }, seed: "bench", points: memberPoints, chunk: 4 };
  await runEnsemble({ ...request, members: 8 * threads });
  const start = performance.now();
  const cpu = process.cpuUsage();
  let peak = 0;
  const onProgress = () => {
    peak = Math.max(peak, process.memoryUsage().rss);
  };
  const { failures, sketch } = await runEnsemble({ ...request, members, onProgress });
  const seconds = (performance.now() - start) / 1000;
  const { user, system } = process.cpuUsage(cpu);
  await pool.close();
  const memory = `peak memory of the process ${(peak / 1e6).toFixed(0)} MB`;
  console.log(
    `  ${members} members, ${threads} worker(s): ${seconds.toFixed(1)} s (${((user + system) / 1e6).toFixed(1)} s of processor), ${failures.length} failures, ${sketch.size} bins, ${memory}`,
  );
  return members / seconds;
}

export function peakHeap(): void {
  const before = process.memoryUsage();
  const solver = stiffSolver(referenceCase, 1e-4);
  let peak = 0;
  const watched: Integrator = {
    size: solver.size,
    statistics: solver.statistics,
    advance: solver.advance.bind(solver),
    restart: () => {
      const { heapUsed, arrayBuffers } = process.memoryUsage();
      peak = Math.max(peak, heapUsed + arrayBuffers - before.heapUsed - before.arrayBuffers);
      solver.restart();
    },
  };
  runCase(referenceCase, watched);
  console.log(`Peak heap of a 90-day run above its start: ${(peak / 1e6).toFixed(1)} MB`);
}
