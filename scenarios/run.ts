// A checked scenario to a result: hydraulic answers, the likely run, bands, findings. Runs in Node and in the page; no file is touched.

import { faultMatrix } from "../models/hydraulics/matrix.ts";
import { slowDrift } from "../models/hydraulics/slow.ts";
import type { FaultMatrix, Story } from "../models/hydraulics/types.ts";
import { outageClocks } from "../models/outage/clocks.ts";
import { stagnantHeaterWarning } from "../models/outage/temperature.ts";
import { type EnsembleResult, type MemberPool, ownThreadPool, runEnsemble } from "../sim/ensemble.ts";
import type { Built } from "./build.ts";
import { calendarOf } from "./calendar.ts";
import { cautions } from "./cautions.ts";
import { type Compiled, compile, type NitrogenSetup, nitrogenSetup, otherReadings } from "./compile.ts";
import { type Earlier, type FaultsFound, takenOver } from "./earlier.ts";
import { closedFilterFindings } from "./findings/closedFilters.ts";
import { capacityFinding, cycleFindings, peakFindings } from "./findings/cycle.ts";
import { evaporationFinding, faultFindings, hydraulicFindings } from "./findings/hydraulics.ts";
import {
  aftermathFinding,
  aftermathOf,
  batteryPlan,
  clocksOf,
  drownedFindings,
  outageFindings,
  triedOn,
} from "./findings/outage.ts";
import { plannedCutFindings } from "./findings/plannedCuts.ts";
import { shockFindings } from "./findings/shocks.ts";
import { spreadingFindings } from "./findings/spreading.ts";
import { findingOf, type Statement } from "./findings/statement.ts";
import { stockingFindings } from "./findings/stocking.ts";
import { upkeepFindings } from "./findings/upkeep.ts";
import { limitLines, waterFindings } from "./findings/water.ts";
import { faultAnswers, hydraulicAnswers } from "./hydraulicAnswers.ts";
import { faultResult, hydraulicResult } from "./hydraulicReport.ts";
import {
  bandDays,
  createMember,
  type EnsembleSetup,
  type Ground,
  groundOf,
  likelySample,
  type Proof,
  runSample,
} from "./members.ts";
import { methodOf } from "./method.ts";
import { nitrogenResult } from "./nitrogenReport.ts";
import { CLEARED_NO2, CLEARED_TAN, capacityAt, type Readiness, readiness } from "./readiness.ts";
import { type NitrogenResult, RESULT_FORMAT, RESULT_VERSION, type RunResult } from "./result.ts";
import type { DefaultUsed } from "./schema/walk.ts";
import type { Scenario } from "./schema.ts";
import { sensitivities } from "./sensitivity.ts";
import { Words } from "./words.ts";

export interface RunInput {
  readonly scenario: Scenario;
  readonly source: string;
  readonly file: string;
  readonly defaults: readonly DefaultUsed[];
  readonly warnings: readonly string[];
}

export interface RunSettings {
  readonly seed: string;
  /** Runs in the band; 0 = the likely run only. */
  readonly members: number;
  /** Work out every fault and pair; false while somebody drags a slider. */
  readonly matrix: boolean;
  /** Without `matrix`: an earlier run whose faults and marks stand in, since they take longer than the days. */
  readonly earlier?: Earlier;
  readonly pool?: MemberPool<EnsembleSetup>;
  readonly onProgress?: (what: string, done: number, of: number) => void;
  /** Told the days as soon as they are run, before what they come to is worked out; without bands, surfaces as on the last day. */
  readonly onDays?: (nitrogen: NitrogenResult) => void;
}

/** A run that could not be finished, in plain words. */
export class RunFailure extends Error {}

const LIKELY = { outputsPerDay: 8, relative: 1e-4 } as const;
/** How long nobody looks after the water, for the evaporation [d]. */
const UNATTENDED_DAYS = 14;
/** Longest list of output points; longer runs are sampled more thinly. */
const MOST_POINTS = 1500;

/**
 * Runs a scenario.
 * @throws RunFailure when the parts cannot be put together or a run gives up; what was wrong is in the message
 */
export async function runScenario(input: RunInput, settings: RunSettings): Promise<RunResult> {
  const { scenario, source, file } = input;
  const compiled = assembled(scenario, source);
  const { built } = compiled;
  const words = new Words(built);
  const report = settings.onProgress ?? (() => undefined);

  report("hydraulics", 0, 1);
  const story = compiled.teller.tell();
  const setup = nitrogenSetup(compiled, story);
  const proof = { times: built.ask.times, withinDays: built.ask.withinDays, tan: CLEARED_TAN, no2: CLEARED_NO2 };
  // Workers begin with the bands while this thread looks at the faults.
  const readings = [setup, ...otherReadings(scenario, source).map((other) => nitrogenSetup(other, story))];
  const pending = settings.members > 0 ? bands(readings, built.husbandry.days, proof, settings, report) : Promise.resolve(null);

  report("days", 0, 1);
  const outputsPerDay = Math.max(1, Math.min(LIKELY.outputsPerDay, Math.floor(MOST_POINTS / built.husbandry.days)));
  const ground = groundOf(setup);
  const run = runSample(ground, likelySample(setup), { ...LIKELY, outputsPerDay, proof });
  if (run.outcome.status === "failed") {
    await pending;
    throw new RunFailure(`The run stopped on day ${run.outcome.t.toFixed(2)}: ${run.outcome.message}`);
  }
  settings.onDays?.(nitrogenResult(run, run.states.length - 1, null, limitLines(run)));
  const ready = readiness(run, built.ask, built.fishless);
  const capacity = capacityAt(run, ready.index);
  const tried = triedOn(setup, run, built.outage);
  const clocks = outageClocks(setup.rest, built.outage, tried);

  const matrix = settings.matrix
    ? faultMatrix(built.rig, (done, of) => {
        report("faults", done, of);
        return true;
      })
    : null;
  const answers = hydraulicAnswers(compiled, story, matrix);
  const faults = settings.matrix || !settings.earlier ? workedOut(built, story, matrix) : takenOver(settings.earlier, built);
  const ensemble = await pending;
  const [early, late] = spread(ground, settings, ready, built, proof);

  return {
    format: RESULT_FORMAT,
    version: RESULT_VERSION,
    file,
    name: scenario.name,
    question: scenario.question ?? "",
    source,
    units: built.units,
    kit: {
      ammonia: built.kit.ammonia,
      nitrite: built.kit.nitrite,
      nitrate: built.kit.nitrate,
      steps: built.kit.steps,
      ceilings: { ammonia: words.ceiling("ammonia"), nitrite: words.ceiling("nitrite"), nitrate: words.ceiling("nitrate") },
    },
    seed: settings.seed,
    rig: built.rig,
    keeping: keepingOf(built),
    findings: [
      ...(built.fishless ? cycleFindings(words, run, ready, capacity, early, late) : [capacityFinding(run, capacity)]),
      ...peakFindings(words, run),
      ...stockingFindings(run),
      ...hydraulicFindings(answers),
      ...faults.findings,
      ...plannedCutFindings(run),
      ...aftermathFinding(setup, built.outage, run, tried),
      ...closedFilterFindings(setup, built.outage, tried),
      ...drownedFindings(setup.rest),
      ...outageFindings(clocks, built.outage, stagnantHeaterWarning(setup.rest, built.outage)),
      ...shockFindings(run),
      ...waterFindings(run),
      ...spreadingFindings(run.aquarium),
      ...upkeepFindings(run),
    ].map((statement: Statement) => findingOf(words, statement)),
    hydraulics: hydraulicResult(answers, faults.result),
    nitrogen: nitrogenResult(run, ready.index, ensemble, limitLines(run)),
    outage: clocksOf(clocks),
    battery: batteryPlan(built),
    aftermath: aftermathOf(built.outage, setup.rest, tried),
    readings: built.readings,
    calendar: calendarOf(built, run, ready, late),
    sensitivities: settings.members > 0 ? sensitivities(ground, proof, built.fishless) : [],
    defaults: [...input.defaults, ...built.defaults].map(({ key, value, why }) => ({ key, value, why })),
    warnings: [...input.warnings, ...built.warnings],
    cautions,
    method: methodOf(run.aquarium.system),
    statistics: {
      steps: run.statistics.steps,
      rejected: run.statistics.rejected,
      derivatives: run.statistics.derivatives,
      hydraulicRuns: compiled.teller.stages,
    },
  };
}

function keepingOf({ husbandry, food, outage }: Built): RunResult["keeping"] {
  const [first] = husbandry.groups;
  return {
    tapPh: husbandry.tap.ph,
    tapAlkalinityEqPerM3: husbandry.tap.alkalinityEqPerM3,
    foodGPerDay: food?.gPerDay ?? null,
    firstGroup: first ? { count: first.count, foodGPerDay: first.foodGPerDay } : null,
    cutHours: outage.hours,
  };
}

function workedOut({ rig }: Built, plain: Story, matrix: FaultMatrix | null): FaultsFound {
  const answers = faultAnswers(rig, plain, matrix);
  const findings = faultFindings(rig, answers);
  if (matrix) findings.push(evaporationFinding(slowDrift(rig, UNATTENDED_DAYS), rig.topOff !== null));
  return { result: faultResult(rig, answers), findings };
}

function assembled(scenario: Scenario, source: string): Compiled {
  try {
    return compile(scenario, source);
  } catch (cause) {
    if (cause instanceof RangeError || cause instanceof TypeError) throw cause;
    throw new RunFailure(cause instanceof Error ? cause.message : String(cause), { cause });
  }
}

async function bands(
  nitrogen: readonly NitrogenSetup[],
  days: number,
  proof: Proof,
  settings: RunSettings,
  report: NonNullable<RunSettings["onProgress"]>,
): Promise<EnsembleResult> {
  const pool = settings.pool ?? ownThreadPool(createMember);
  return runEnsemble({
    pool,
    setup: { nitrogen, seed: settings.seed, members: settings.members, days, proof },
    seed: settings.seed,
    members: settings.members,
    points: 3 * bandDays(days).length,
    // A chunk for each worker and again: the thread that hands them out may be busy for a second.
    chunk: Math.max(1, Math.ceil(settings.members / (2 * pool.size))),
    onProgress: (done, of) => report("runs", done, of),
  });
}

/** Readiness with a lucky and an unlucky seed: the ends of the scenario's own range, other things as likely. */
function spread(
  ground: Ground,
  settings: RunSettings,
  likely: Readiness,
  { ask, fishless }: Built,
  proof: Proof,
): [number | null, number | null] {
  const { setup } = ground;
  const { low, high } = setup.husbandry.seed;
  if (!fishless || settings.members === 0 || low === high) return [likely.day, likely.day];
  const at = (seedShare: number): number | null => {
    const run = runSample(
      ground,
      { ...likelySample(setup), seedShare },
      { outputsPerDay: 1, relative: 1e-3, proof },
      { evenFeeding: true },
    );
    return run.outcome.status === "finished" ? readiness(run, ask, fishless).day : null;
  };
  return [at(high), at(low)];
}
