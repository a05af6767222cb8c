// The model in the Web Worker of the page: takes the text of a scenario and changes, and returns a result. The command
// line uses the same code.
import * as z from "zod";
import type { FaultId } from "../../models/hydraulics/types.ts";
import { createCourse } from "../../scenarios/forecast/course.ts";
import { posteriorOf } from "../../scenarios/forecast/posterior.ts";
import { errorText, loadScenario } from "../../scenarios/load/load.ts";
import { withChanges } from "../../scenarios/load/save.ts";
import { coupleModels } from "../../scenarios/model/compile.ts";
import { isSameRig } from "../../scenarios/report/cached-faults.ts";
import { outageTraceOf } from "../../scenarios/report/hydraulic-report.ts";
import type { RunResult } from "../../scenarios/result/result.ts";
import { RunFailure, runScenario } from "../../scenarios/run/run.ts";
import { ownThreadPool } from "../../sim/ensemble/ensemble.ts";
import { compileWhereAllowed } from "../../sim/linear-algebra/vector-loops.ts";
import type { LiveAnswer, LiveRequest } from "./engine.ts";

// Otherwise the schema library tries to create code from text; the content security policy forbids it, and the console
// would report it.
z.config({ jitless: true });
compileWhereAllowed();

const reply = (answer: LiveAnswer): void => postMessage(answer);

/** Answer with the errors of the file or the run, for the reader. */
const refusal = (id: number, errors: readonly string[]): LiveAnswer => ({ id, ok: false, errors });

/** A posterior of a few dozen members, in some seconds: as many runs as a reader waits for. */
const LEARNING = { members: 60, waves: { members: 30, most: 5, enough: 30 } } as const;

async function answer({
  id,
  source,
  file,
  changes,
  faults,
  seed,
  cachedFaults,
  textOnly,
  learn,
}: LiveRequest): Promise<LiveAnswer> {
  const text = changes.length > 0 ? withChanges(source, changes) : source;
  const loaded = loadScenario(text, file);
  if (!loaded.ok) return refusal(id, loaded.errors.map(errorText));
  const { scenario, defaults, warnings } = loaded;
  if (textOnly) return { id, ok: true, kind: "text", text };
  if (learn) {
    const { posterior } = await posteriorOf(
      { scenario, source: text, file, readings: [] },
      {
        ...LEARNING,
        pool: ownThreadPool(createCourse()),
        signal: new AbortController().signal,
        seed,
        onProgress: (_, done, of) => reply({ id, ok: true, kind: "progress", done, of }),
      },
    );
    return { id, ok: true, kind: "forecast", forecast: posterior };
  }
  if (faults.length > 0) {
    const story = coupleModels(scenario, text).simulator.simulate({ faults: faults as readonly FaultId[], follow: false });
    return { id, ok: true, kind: "story", story: outageTraceOf(`asked ${faults.join("|")}`, faults.join(" and "), story) };
  }
  const result: RunResult = await runScenario(
    { scenario, source: text, file, defaults, warnings },
    cachedFaults
      ? { seed, members: 0, matrix: false, cachedFaults, onDays: (nitrogen) => reply({ id, ok: true, kind: "days", nitrogen }) }
      : { seed, members: 0, matrix: true },
  );
  return { id, ok: true, kind: "result", result, whole: cachedFaults === null || isSameRig(result.rig, cachedFaults.rig) };
}

addEventListener("message", (event: MessageEvent<LiveRequest>) => {
  answer(event.data).then(reply, (error: unknown) => {
    if (!(error instanceof RunFailure)) setTimeout(() => Promise.reject(error));
    reply(refusal(event.data.id, [error instanceof Error ? error.message : String(error)]));
  });
});
