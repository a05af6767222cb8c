import { expect, test } from "vitest";
import {
  type EnsembleRequest,
  type EnsembleResult,
  memberStream,
  ownThreadPool,
  runEnsemble,
} from "../../../sim/ensemble/ensemble.ts";
import { nodePool } from "../../../sim/ensemble/node-pool.ts";
import { QuantileSketch } from "../../../sim/ensemble/quantile-sketch.ts";
import { latinHypercube } from "../../../sim/ensemble/sampling.ts";
import { type MessageEnd, serveMembers, type WorkerEnd, webPool } from "../../../sim/ensemble/web-pool.ts";
import { createLogisticMember, type LogisticSetup, outputTimes } from "./ensemble-member.ts";

const request: Omit<EnsembleRequest<LogisticSetup>, "pool"> = {
  setup: { capacity: 100 },
  seed: "pond",
  members: 200,
  points: outputTimes.length,
  chunk: 7,
};
const workerFile = new URL("./ensemble-worker.ts", import.meta.url);
const levels = [0, 0.05, 0.25, 0.5, 0.75, 0.95, 1];
const bits = (result: EnsembleResult) => levels.map((p) => [...result.sketch.quantile(p)]);

async function onOwnThread(more: Partial<EnsembleRequest<LogisticSetup>> = {}): Promise<EnsembleResult> {
  return runEnsemble({ ...request, ...more, pool: ownThreadPool(createLogisticMember) });
}

test("an ensemble gives the same bits with 1, 2 and 8 workers, and without workers", async () => {
  const expected = await onOwnThread();
  expect(expected).toMatchObject({ status: "finished", done: 200 });
  expect(expected.failures.map(({ member }) => member)).toEqual([16, 33, 50, 67, 84, 101, 118, 135, 152, 169, 186]);
  expect(expected.sketch.count).toBe(189);
  for (const threads of [1, 2, 8]) {
    const pool = nodePool<LogisticSetup>(workerFile, threads);
    const result = await runEnsemble({ ...request, chunk: threads, pool });
    await pool.close();
    expect(bits(result)).toEqual(bits(expected));
    expect(result.failures).toEqual(expected.failures);
  }
});

test("the quantiles agree with the closed form within one bin", async () => {
  // Logistic growth: X = K / (1 + (K / X0 - 1) e^{-mu t}); quantiles over the sampled rates by sorting.
  const { sketch } = await onOwnThread();
  const rates = Array.from({ length: 200 }, (_, i) => 0.2 + 0.8 * memberStream("pond", i)()).filter((_, i) => i % 17 !== 16);
  outputTimes.forEach((t, point) => {
    const sorted = rates.map((mu) => 100 / (1 + 99 * Math.exp(-mu * t))).sort((a, b) => a - b);
    for (const p of levels) {
      const rank = p * (sorted.length - 1);
      const [low, high] = [sorted[Math.floor(rank)], sorted[Math.ceil(rank)]];
      const value = sketch.quantile(p)[point];
      expect(value).toBeGreaterThan(low * (1 - 1 / 256));
      expect(value).toBeLessThan(high * (1 + 1 / 256));
    }
  });
});

test("an interrupted ensemble resumes and gives the result of an uninterrupted one", async () => {
  const expected = await onOwnThread();
  const stop = new AbortController();
  const cut = await onOwnThread({ signal: stop.signal, onProgress: (done) => done >= 60 && stop.abort() });
  expect(cut.status).toBe("cancelled");
  expect(cut.done).toBeGreaterThanOrEqual(60);
  expect(cut.done).toBeLessThan(200);
  const resumed = await onOwnThread({ resume: cut });
  expect(resumed.status).toBe("finished");
  expect(bits(resumed)).toEqual(bits(expected));
  expect(resumed.failures).toEqual(expected.failures);
});

test("cancelling terminates workers in the middle of their chunks", async () => {
  const stop = new AbortController();
  const pool = nodePool<LogisticSetup>(workerFile, 2);
  const cut = await runEnsemble({
    ...request,
    members: 1_000_000,
    chunk: 100,
    pool,
    signal: stop.signal,
    onProgress: (done) => done >= 300 && stop.abort(),
  });
  await pool.close();
  expect(cut.status).toBe("cancelled");
  expect(cut.sketch.count + cut.failures.length).toBe(cut.done);
});

test("no chunk starts after the deadline", async () => {
  let clock = 0;
  const result = await onOwnThread({ deadline: { now: () => clock++, at: 5 } });
  expect(result).toMatchObject({ status: "out-of-time", done: 6 * 7 });
});

test("a Web Worker gives the same result as a worker thread", async () => {
  const expected = await onOwnThread();
  let started = 0;
  const start = (): WorkerEnd => {
    started++;
    // Both ends run in one thread, with the structured clone of a real worker.
    const scope: MessageEnd = { onmessage: null, postMessage: (data) => reply(data) };
    const worker: WorkerEnd = {
      onmessage: null,
      onerror: null,
      terminate() {},
      postMessage: (data) => queueMicrotask(() => scope.onmessage?.({ data: structuredClone(data) } as MessageEvent)),
    };
    const reply = (data: unknown) => queueMicrotask(() => worker.onmessage?.({ data: structuredClone(data) } as MessageEvent));
    serveMembers(scope, createLogisticMember);
    return worker;
  };
  const result = await runEnsemble({ ...request, pool: webPool(start, 3) });
  expect(started).toBe(3);
  expect(bits(result)).toEqual(bits(expected));
});

test("the failure of a worker is reported", async () => {
  const broken = ownThreadPool<LogisticSetup>(() => () => {
    throw new Error("no such parameter");
  });
  await expect(runEnsemble({ ...request, pool: broken })).rejects.toThrow("no such parameter");
});

test("the sketch keeps signs and order, and its size does not grow with the number of runs", () => {
  const sketch = new QuantileSketch(1);
  for (const value of [-3, -1e-12, 0, 1e-12, 2, 1e300]) sketch.add(Float64Array.of(value));
  const at = (p: number) => sketch.quantile(p)[0];
  expect([at(0), at(1)]).toEqual([-3, 1e300]);
  expect(Math.abs(at(0.2) / -1e-12 - 1)).toBeLessThan(1 / 256);
  expect(at(0.4)).toBeCloseTo(0, 12);
  expect(Math.abs(at(0.8) / 2 - 1)).toBeLessThan(1 / 256);
  expect(() => sketch.add(Float64Array.of(Number.NaN))).toThrow("not finite");

  const sizes = [1000, 100_000].map((runs) => {
    const many = new QuantileSketch(1);
    const random = memberStream("size", runs);
    for (let i = 0; i < runs; i++) many.add(Float64Array.of(1 + random()));
    return many.size;
  });
  // The range 1 .. 2 has 256 bins, whatever the number of runs.
  expect(sizes[0]).toBeGreaterThan(200);
  expect(sizes[1]).toBeLessThanOrEqual(256);
});

test("a Latin hypercube has one member in every stratum of every dimension", () => {
  const point = latinHypercube("seed", 50, 3);
  const points = Array.from({ length: 50 }, (_, i) => point(i, memberStream("seed", i)));
  for (let d = 0; d < 3; d++) {
    const strata = points.map((p) => Math.floor(p[d] * 50)).sort((a, b) => a - b);
    expect(strata).toEqual(Array.from({ length: 50 }, (_, i) => i));
  }
});
