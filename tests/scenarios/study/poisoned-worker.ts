// A worker that one point kills, as a point does that exhausts the memory of its machine.
import { StudyQueue } from "../../../scenarios/study/node-queue.ts";
import { work } from "../../../scenarios/study/node-queue-worker.ts";
import { createPoint } from "../../../scenarios/study/point.ts";
import type { StudySetup } from "../../../scenarios/study/schema.ts";
import { type MemberPool, ownThreadPool } from "../../../sim/ensemble/ensemble.ts";

const POISON = 100;
const healthy = ownThreadPool(createPoint);
const pool: MemberPool<StudySetup> = {
  ...healthy,
  run(chunk, signal) {
    if (chunk.from <= POISON && POISON < chunk.to) process.kill(process.pid, "SIGKILL");
    return healthy.run(chunk, signal);
  },
};
const queue = await StudyQueue.open({
  url: process.argv[2],
  lostAfter: 1,
  signal: new AbortController().signal,
  say: console.error,
});
await work({ queue, pool, program: process.argv[3], signal: new AbortController().signal, untilDone: true, say: console.error });
await queue.close();
