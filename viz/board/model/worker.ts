// Background model of the board: returns levels first, then days, then sentences; a newer question cancels an older one
// between them.
import * as z from "zod";
import { loadScenario } from "../../../scenarios/load/load.ts";
import { withChanges } from "../../../scenarios/load/save.ts";
import { coupleModels } from "../../../scenarios/model/compile.ts";
import { isSameRig } from "../../../scenarios/report/cached-faults.ts";
import { outageTraceOf } from "../../../scenarios/report/hydraulic-report.ts";
import { RunFailure, runScenario } from "../../../scenarios/run/run.ts";
import { compileWhereAllowed } from "../../../sim/linear-algebra/vector-loops.ts";
import type { Answer, Question } from "./live.ts";

// Otherwise the schema library tries to create code from text; the content security policy forbids it, and the console
// would report it.
z.config({ jitless: true });
compileWhereAllowed();

const SEED = "1";

let newest = 0;
const reply = (answer: Answer): void => postMessage(answer);
/** Yields to incoming messages; true if a newer question has arrived. */
const overtaken = async (id: number): Promise<boolean> => {
  await new Promise((resolve) => setTimeout(resolve));
  return id !== newest;
};

async function answer({ id, text, changes, file, depth, members, cached }: Question): Promise<void> {
  const source = changes.length > 0 ? withChanges(text, changes) : text;
  const loaded = loadScenario(source, file);
  if (!loaded.ok) {
    reply({ id, is: "refused", errors: loaded.errors });
    return;
  }
  const { scenario, defaults, warnings } = loaded;
  if (depth !== "whole") {
    const coupled = coupleModels(scenario, source);
    const story = coupled.simulator.simulate();
    reply({ id, is: "levels", rig: coupled.resolved.rig, story: outageTraceOf("plain", "Power cut and restart", story) });
    if (depth === "levels" || (await overtaken(id))) return;
  }
  const result = await runScenario(
    { scenario, source, file, defaults, warnings },
    depth === "whole"
      ? { seed: SEED, members, matrix: true, onProgress: (what, done, of) => reply({ id, is: "progress", what, done, of }) }
      : {
          seed: SEED,
          members: 0,
          matrix: false,
          ...(cached ? { cachedFaults: cached } : {}),
          onDays: (nitrogen) => reply({ id, is: "days", nitrogen }),
        },
  );
  reply({ id, is: "result", result, whole: depth === "whole" || (cached !== null && isSameRig(result.rig, cached.rig)) });
}

addEventListener("message", (event: MessageEvent<Question>) => {
  newest = event.data.id;
  answer(event.data).catch((error: unknown) => {
    if (!(error instanceof RunFailure)) setTimeout(() => Promise.reject(error));
    reply({ id: event.data.id, is: "failed", problem: error instanceof Error ? error.message : String(error) });
  });
});
