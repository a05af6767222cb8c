// From a checked scenario to a result: hydraulic answers, the likely run, bands, findings. Works in Node and in the
// page, without file I/O.

import { faultMatrixSteps } from "../../models/hydraulics/planning/fault-matrix.ts";
import type { FaultMatrix } from "../../models/hydraulics/types.ts";
import type { Rig } from "../../models/rig.ts";
import { type EnsembleResult, type MemberPool, ownThreadPool, runEnsemble } from "../../sim/ensemble/ensemble.ts";
import { scoped, yieldToEventLoop } from "../../sim/ensemble/scope.ts";
import { GaveUpError } from "../../sim/integrators/outcome.ts";
import { sensitivities } from "../analysis/sensitivity.ts";
import type { ResolvedScenario } from "../build/build.ts";
import { answerOf } from "../findings/answer.ts";
import { bookFindings } from "../findings/books.ts";
import { calendarOf } from "../findings/calendar.ts";
import { cautions } from "../findings/cautions.ts";
import { aftermathOf, batteryPlan, clocksOf } from "../findings/outage.ts";
import { limitLines } from "../findings/water.ts";
import { type CoupledModel, coupleModels, nitrogenSetup, otherReadings } from "../model/compile.ts";
import { clustersOf, planWithout } from "../model/incidents.ts";
import { spreadOf } from "../model/likelihood.ts";
import {
  answersPerMember,
  type BaseCase,
  bandDays,
  createMember,
  type EnsembleSetup,
  type MemberChallengeResult,
  type MemberQuestions,
  prepareBaseCase,
  twinsOf,
} from "../model/members.ts";
import type { CachedFaults } from "../report/cached-faults.ts";
import { hydraulicResult } from "../report/hydraulic-report.ts";
import { methodOf } from "../report/method.ts";
import { nitrogenResult } from "../report/nitrogen-report.ts";
import { type NitrogenResult, RESULT_FORMAT, RESULT_VERSION, type RunResult } from "../result/result.ts";
import { findingOf } from "../result/statement.ts";
import type { Scenario } from "../schema/schema.ts";
import type { DefaultUsed } from "../text/notes.ts";
import { Answers, finders, RunFailure } from "./answers.ts";
import { giveUpText } from "./give-up.ts";

/** A checked scenario with its defaults and warnings, as returned by `load`. */
export interface RunInput {
  readonly scenario: Scenario;
  /** The text of the file. */
  readonly source: string;
  /** Its name, for messages and the page. */
  readonly file: string;
  readonly defaults: readonly DefaultUsed[];
  /** Unusual values, in words. */
  readonly warnings: readonly string[];
  /** The image named by `firm.logo` of the scenario, as a data URL. */
  readonly logo?: string;
}

/** Options of a run. */
export interface RunControls {
  /** Random seed: the same seed gives the same bytes. */
  readonly seed: string;
  /** Number of runs in the bands; 0 = the likely run only. */
  readonly members: number;
  /** Whether to compute every fault and pair; false while a slider moves. */
  readonly matrix: boolean;
  /** Without `matrix`: an earlier run whose faults and fill levels are reused, because they take longer than the days. */
  readonly cachedFaults?: CachedFaults;
  /** Called with the current part of the work and its progress. */
  readonly onProgress?: (what: string, done: number, of: number) => void;
  /** Stops the run and everything that it started; the promise then rejects with the signal's reason. */
  readonly signal?: AbortSignal;
  /** Receives the days as soon as they are simulated, before the findings; without bands, with the surfaces of the last day. */
  readonly onDays?: (nitrogen: NitrogenResult) => void;
}

export interface RunSettings extends RunControls {
  /** Pool for the runs of the band; by default the calling thread. */
  readonly pool?: MemberPool<EnsembleSetup>;
}

export { RunFailure };

/**
 * Runs a scenario.
 * @throws RunFailure when the parts cannot be combined or a run does not finish; the message says why
 * @throws the reason of `settings.signal` when it is aborted
 */
export async function runScenario(input: RunInput, settings: RunSettings): Promise<RunResult> {
  try {
    return await scoped(settings.signal, (signal, begin) => runWithin(input, settings, signal, begin));
  } catch (cause) {
    if (!(cause instanceof GaveUpError)) throw cause;
    throw new RunFailure(giveUpText(cause.message, input.scenario, input.warnings), { cause });
  }
}

async function runWithin(
  input: RunInput,
  settings: RunSettings,
  signal: AbortSignal,
  begin: <R>(task: Promise<R>) => Promise<R>,
): Promise<RunResult> {
  const { scenario, source, file } = input;
  const coupled = assembled(scenario, source);
  const { resolved } = coupled;
  const report = settings.onProgress ?? (() => undefined);
  let ensemble: EnsembleResult | null = null;
  const pairs: Float64Array[] = [];
  const asked: Answers = new Answers(coupled, {
    matrix: settings.matrix,
    ...(settings.cachedFaults ? { cachedFaults: settings.cachedFaults } : {}),
    spread: () =>
      spreadOf(ensemble, asked.run(), asked.even(), asked.questions(), {
        readyDay: asked.ready().day,
        carries: asked.capacity().carriesGNPerDay,
      }),
    pairs: () => pairs,
    faultMatrix: () => matrix,
    onFaults: (done, of) => report("faults", done, of),
  });
  const { words, proof } = asked;
  let matrix: FaultMatrix | null = null;

  report("hydraulics", 0, 1);
  const story = asked.plainOutage();
  const setup = asked.setup();
  // Workers begin with the bands while this thread looks at the faults.
  const grounds = [
    asked.baseCase(),
    ...otherReadings(scenario, source).map((other) => prepareBaseCase(nitrogenSetup(other, story))),
  ];
  const pending =
    settings.members > 0
      ? begin(bands(grounds, resolved.management.days, proof, asked.questions(), pairs, settings, signal, report))
      : Promise.resolve(null);

  report("days", 0, 1);
  await yieldToEventLoop(signal);
  const run = asked.run();
  settings.onDays?.(nitrogenResult(run, run.states.length - 1, null, limitLines(run)));
  const ready = asked.ready();
  asked.capacity();
  await yieldToEventLoop(signal);
  const tried = asked.outageTrial();
  if (settings.matrix) matrix = await allFaults(resolved.rig, signal, report);
  await yieldToEventLoop(signal);
  const faults = asked.faults();
  await yieldToEventLoop(signal);
  asked.effects();
  await yieldToEventLoop(signal);
  const drivers = settings.members > 0 ? sensitivities(asked.baseCase(), proof, resolved, ready.day) : [];
  ensemble = await pending;
  signal.throwIfAborted();
  const hydraulics = hydraulicResult(asked.hydraulics(), faults.result, words);
  const nitrogen = nitrogenResult(run, ready.index, ensemble, limitLines(run), ensemble ? asked.even() : null);
  const statements = [...bookFindings(hydraulics, nitrogen), ...finders.flatMap((find) => find(asked))];
  const findings = statements.map((statement) => findingOf(words, statement));

  return {
    format: RESULT_FORMAT,
    version: RESULT_VERSION,
    file,
    name: scenario.name,
    question: scenario.question ?? "",
    source,
    units: resolved.units,
    kit: {
      ammonia: resolved.kit.ammonia,
      nitrite: resolved.kit.nitrite,
      nitrate: resolved.kit.nitrate,
      steps: resolved.kit.steps,
      ceilings: { ammonia: words.ceiling("ammonia"), nitrite: words.ceiling("nitrite"), nitrate: words.ceiling("nitrate") },
    },
    seed: settings.seed,
    rig: resolved.rig,
    inputs: inputsOf(resolved),
    firm: scenario.firm ? { name: scenario.firm.name, contact: scenario.firm.contact ?? "", logo: input.logo ?? null } : null,
    answer: answerOf(scenario.question ?? "", findings),
    findings,
    hydraulics,
    nitrogen,
    outage: clocksOf(asked.clocks(), words),
    battery: batteryPlan(resolved),
    aftermath: aftermathOf(resolved.outage, setup.rest, tried),
    readings: resolved.readings,
    calendar: calendarOf(resolved, run, ready),
    sensitivities: drivers,
    defaults: [...input.defaults, ...resolved.defaults].map(({ key, value, why }) => ({ key, value, why })),
    warnings: [...input.warnings, ...resolved.warnings],
    cautions,
    method: methodOf(run.aquarium.parameters, setup),
    statistics: {
      steps: run.statistics.steps,
      rejected: run.statistics.rejected,
      derivatives: run.statistics.derivatives,
      hydraulicRuns: coupled.simulator.stages,
    },
  };
}

/** Every fault and pair; yields in between to other work and to the signal. */
async function allFaults(rig: Rig, signal: AbortSignal, report: NonNullable<RunSettings["onProgress"]>): Promise<FaultMatrix> {
  const steps = faultMatrixSteps(rig);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
    report("faults", step.value.done, step.value.of);
    await yieldToEventLoop(signal);
  }
}

function inputsOf({ management, food, outage }: ResolvedScenario): RunResult["inputs"] {
  const [first] = management.groups;
  return {
    tapPh: management.tap.ph,
    tapAlkalinityEqPerM3: management.tap.alkalinityEqPerM3,
    foodGPerDay: food?.gPerDay ?? null,
    firstGroup: first ? { count: first.count, foodGPerDay: first.foodGPerDay } : null,
    cutHours: outage.hours,
  };
}

function assembled(scenario: Scenario, source: string): CoupledModel {
  try {
    return coupleModels(scenario, source);
  } catch (cause) {
    if (cause instanceof RangeError || cause instanceof TypeError) throw cause;
    throw new RunFailure(cause instanceof Error ? cause.message : String(cause), { cause });
  }
}

async function bands(
  grounds: readonly BaseCase[],
  days: number,
  proof: MemberChallengeResult,
  questions: MemberQuestions,
  pairs: Float64Array[],
  settings: RunSettings,
  signal: AbortSignal,
  report: NonNullable<RunSettings["onProgress"]>,
): Promise<EnsembleResult> {
  const pool = settings.pool ?? ownThreadPool(createMember);
  const points = 3 * bandDays(days).length + answersPerMember(questions);
  const plans = grounds.map(({ setup: { management } }) =>
    clustersOf(management).map((cluster) => planWithout(cluster, cluster.incidents, management)),
  );
  return runEnsemble({
    pool,
    setup: {
      nitrogen: grounds.map(({ setup }) => setup),
      mature: grounds.map(({ mature }) => mature),
      seed: settings.seed,
      members: settings.members,
      days,
      proof,
      questions,
      twins: twinsOf(settings.members, days, plans),
    },
    seed: settings.seed,
    members: settings.members,
    points,
    onMember: (_, values) => {
      if (values.length > points) pairs.push(values);
    },
    // A chunk for each worker and again: the thread that hands them out may be busy for a second.
    chunk: Math.max(1, Math.ceil(settings.members / (2 * pool.size))),
    signal,
    onProgress: (done, of) => report("runs", done, of),
  });
}
