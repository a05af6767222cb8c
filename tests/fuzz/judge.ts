// Runs one scenario text as a user would, and checks the answer.
import { faultsFor } from "../../models/hydraulics/outage/faults.ts";
import { SPILL_THRESHOLD_M3 } from "../../models/hydraulics/outage/verdict.ts";
import { loadScenario } from "../../scenarios/load/load.ts";
import { coupleModels } from "../../scenarios/model/compile.ts";
import type { RunResult } from "../../scenarios/result/result.ts";
import { RunFailure, runScenario } from "../../scenarios/run/run.ts";
import type { Scenario } from "../../scenarios/schema/schema.ts";
import { csvFiles } from "../../viz/csv.ts";
import { renderPage } from "../../viz/report.ts";

export interface Effort {
  /** Whether to compute every fault and pair. */
  readonly matrix: boolean;
  /** Number of runs in the bands. */
  readonly members: number;
  /** Whether to render page and tables. */
  readonly page: boolean;
  /** Only the levels: running balance, plain outage and one of the faults, without the days. */
  readonly levelsOnly?: boolean;
}

/**
 * invalid: refused, with a place in the file. refused: the parts cannot be combined or a run gives up, in plain words.
 * broken: any other exception. impossible: an answer with impossible values.
 */
export interface Judgement {
  readonly outcome: "fine" | "invalid" | "refused" | "broken" | "impossible";
  readonly what: readonly string[];
}

/** Levels in the result have six digits. */
const ROUNDED = 1e-5;
const FLOOR_M = 1e-9;
const WATER = 1e-9;
const NITROGEN = 1e-8;
const SOLIDS = 1e-9;

const UNFIT = /NaN|undefined|Infinity|null|\[object/;

function* unfitNumbers(value: unknown, path: string): Generator<string> {
  if (typeof value === "number") {
    if (!Number.isFinite(value)) yield `${path} is ${value}`;
  } else if (typeof value === "string") {
    if (UNFIT.test(value)) yield `${path} says "${value}"`;
  } else if (Array.isArray(value)) {
    for (const [i, item] of value.entries()) yield* unfitNumbers(item, `${path}[${i}]`);
  } else if (typeof value === "object" && value !== null) {
    for (const [key, item] of Object.entries(value)) if (key !== "source") yield* unfitNumbers(item, `${path}.${key}`);
  }
}

/** Ranges that no aquarium exceeds: [least, most] by panel. */
const POSSIBLE: Readonly<Record<string, readonly [number, number]>> = {
  oxygen: [-1e-3, 40],
  ph: [1, 13],
  temperature: [-3, 60],
  nitrogen: [-1e-2, 1e6],
  solids: [-1e-3, 1e9],
  organics: [-1e-2, 1e9],
  biomass: [-1e-3, 1e9],
  spill: [-1e-9, 100 + 1e-9],
};

/** The impossible values in a result. */
export function* impossibilities(result: RunResult): Generator<string> {
  yield* unfitNumbers(result, "result");
  if (!(result.hydraulics.underFloorM <= FLOOR_M)) yield `a vessel is drained ${result.hydraulics.underFloorM} m below its floor`;
  const { hydraulics, nitrogen } = result;
  if (!(hydraulics.waterImbalance <= WATER)) yield `the water is open by ${hydraulics.waterImbalance}`;
  if (!(nitrogen.ledger.imbalance <= NITROGEN)) yield `the nitrogen ledger is open by ${nitrogen.ledger.imbalance}`;
  if (!(nitrogen.inertSolids.imbalance <= SOLIDS)) yield `the ledger of solids is open by ${nitrogen.inertSolids.imbalance}`;
  for (const { id, vessels } of hydraulics.stories)
    for (const { id: vessel, bottomZ, levelZ } of vessels) {
      const under = bottomZ - Math.min(...levelZ);
      if (under > FLOOR_M + ROUNDED * Math.max(0.1, Math.abs(bottomZ)))
        yield `${vessel} stands ${under} m below its floor (${id})`;
    }
  for (const { id, panel, place, values } of nitrogen.series) {
    const [least, most] =
      panel === "sediment" ? [-1e-9, 1000 * result.rig.sump.heightM] : (POSSIBLE[panel] ?? [-Infinity, Infinity]);
    const numbers = values.filter((value) => value !== null);
    const [low, high] = [Math.min(...numbers), Math.max(...numbers)];
    if (low < least || high > most) yield `${id} in ${place} lies between ${low} and ${high}`;
  }
  for (const { id, word, text, advice } of result.findings) {
    if (/\bsafe\b/i.test(`${word} ${text} ${advice ?? ""}`)) yield `finding ${id} says safe`;
    if (/could not be (followed|finished)/.test(text)) yield `finding ${id} tells of a part that was given up: ${text}`;
    if (/-\d/.test(text.replace(/\d-\d/g, "").replace(/-[\d.]+ °[CF]/g, "")))
      yield `finding ${id} tells a negative figure: ${text}`;
  }
}

/** The impossible values in the levels of a scenario. */
function* impossibleLevels(scenario: Scenario, text: string): Generator<string> {
  const { resolved, simulator } = coupleModels(scenario, text);
  const faults = faultsFor(resolved.rig);
  const stories = [[], [faults[text.length % faults.length]!.id]].map((faults) => ({
    name: faults.join() || "plain",
    run: simulator.simulate({ faults, keepTrace: false, follow: false }),
  }));
  for (const { name, run } of stories) {
    const { word, onlyIfValveSeals } = run.verdict;
    const spilled = [run.faultWhileRunning, run.cut, run.restart].reduce((sum, stage) => sum + (stage?.spilledM3 ?? 0), 0);
    if (word !== "FLOODS" && spilled > SPILL_THRESHOLD_M3) yield `${word} with ${spilled} m3 on the floor (${name})`;
    if (word === "FLOODS" && spilled <= SPILL_THRESHOLD_M3 && !onlyIfValveSeals) yield `FLOODS with a dry floor (${name})`;
  }
  if (resolved.rig.displays.length === 1) {
    const { faultWhileRunning } = simulator.simulate({ faults: ["drain blocked"], keepTrace: false, follow: false });
    const { outcome } = simulator.blockedDrain(resolved.rig.displays[0]!.id);
    if ((outcome === "spills") !== (faultWhileRunning?.spilledM3 ?? 0) > SPILL_THRESHOLD_M3)
      yield `the drain that blocks ${outcome}, but its story puts ${faultWhileRunning?.spilledM3 ?? 0} m3 on the floor`;
  }
  for (const { name, run } of stories)
    for (const stage of [run.faultWhileRunning, run.cut, run.restart]) {
      if (!stage) continue;
      const { kind, ending, endingNote, vessels, lowestZ, waterDriftM3 } = stage;
      if (ending === "failed") yield `given up: ${kind} with ${name}: ${endingNote}`;
      for (const { id, bottomZ } of vessels)
        if (!(bottomZ - lowestZ[id]!.z <= FLOOR_M))
          yield `${id} stands ${bottomZ - lowestZ[id]!.z} m below its floor (${kind}, ${name})`;
      if (!(waterDriftM3 <= WATER * run.running.systemVolumeM3))
        yield `the water is open by ${waterDriftM3} m3 (${kind}, ${name})`;
    }
}

/** Judges one text. It throws nothing: an exception of the run is part of the judgement. */
export async function judge(text: string, effort: Effort): Promise<Judgement> {
  try {
    const loaded = loadScenario(text, "random.yaml");
    if (!loaded.ok) return { outcome: "invalid", what: loaded.errors.map((e) => `${e.path}: ${e.problem}`) };
    const { matrix, members, page } = effort;
    if (effort.levelsOnly) {
      const what = [...impossibleLevels(loaded.scenario, text)];
      return { outcome: what.length > 0 ? "impossible" : "fine", what };
    }
    const result = await runScenario({ ...loaded, source: text, file: "random.yaml" }, { seed: "1", members, matrix });
    const what = [...impossibilities(result)];
    if (page) {
      const html = renderPage([result], "", {});
      const body = html.slice(html.indexOf("<body>"), html.indexOf('<script type="application/gzip"'));
      const unfit = /NaN|undefined|Infinity/.exec(body);
      if (unfit) what.push(`the page says "${body.slice(Math.max(0, unfit.index - 80), unfit.index + 40)}"`);
      csvFiles(result);
    }
    return { outcome: what.length > 0 ? "impossible" : "fine", what };
  } catch (error) {
    if (error instanceof RunFailure) return { outcome: "refused", what: [error.message] };
    return {
      outcome: "broken",
      what: [error instanceof Error ? (error.stack ?? error.message).split("\n").slice(0, 4).join("\n") : String(error)],
    };
  }
}
