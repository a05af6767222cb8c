// Forecast from a scenario and its readings: members, update, summary, and, if the readings do not fit, possible causes.

import { normalShare } from "../../sim/design/distributions.ts";
import { pow } from "../../sim/elementary.ts";
import { nitrogenModelOf } from "../model/compile.ts";
import type { UncertainInput } from "../model/uncertain.ts";
import type { KitReading } from "../result/result.ts";
import type { Scenario } from "../schema/schema.ts";
import type { CourseRunner } from "./course.ts";
import { type Diagnosis, diagnosisFrom, runCauses } from "./diagnose.ts";
import { type KitScale, readingsBetween } from "./kit.ts";
import { type Question, questionOf } from "./question.ts";
import { type ForecastSummary, summaryOf } from "./summary.ts";
import { update } from "./update.ts";
import { type AnswerSentence, ForecastWords, INPUT_NAMES } from "./words.ts";

export interface ForecastInput {
  readonly scenario: Scenario;
  readonly source: string;
  readonly file: string;
  /** Readings in addition to those of the scenario. */
  readonly readings: readonly KitReading[];
}

export interface ForecastSettings extends Omit<CourseRunner, "onProgress"> {
  readonly seed: string;
  /** Members drawn from the prior. */
  readonly members: number;
  /** When to search for causes: always, only if the readings do not fit, or never. */
  readonly diagnose: "always" | "where needed" | "never";
  readonly onProgress?: (what: string, done: number, of: number) => void;
}

export interface InputWords {
  readonly id: string;
  readonly name: string;
  /** Early, likely, late before and after the readings, in words. */
  readonly before: string;
  readonly after: string;
  /** Ratio of its spread after the readings to that before; 1 if the readings say nothing about it. */
  readonly left: number;
  readonly why: string;
}

export interface ForecastResult {
  readonly name: string;
  readonly question: string;
  readonly file: string;
  readonly seed: string;
  readonly summary: ForecastSummary;
  readonly trust: string;
  readonly answers: readonly AnswerSentence[];
  readonly inputs: readonly InputWords[];
  readonly contradictions: readonly string[];
  readonly diagnosis: Diagnosis | null;
  readonly scales: readonly KitScale[];
  readonly readings: readonly KitReading[];
  /** Edits that write the updated inputs into the scenario; empty if the update is not trusted. */
  readonly learned: readonly {
    readonly path: readonly (string | number)[];
    readonly value: Readonly<Record<string, string>> | string;
  }[];
}

/** Members of each cause per member of the forecast. */
const CAUSE_SHARE = 0.15;
/** Size of a later wave relative to the first, and largest number of later waves. */
const WAVE_SHARE = 0.25;
const WAVES = 4;
/** An input is written into the scenario if its spread has fallen below this fraction. */
const LEARNED = 0.9;

/**
 * Runs the forecast of a scenario.
 * @throws Error with a message for the user if the parts of the scenario cannot be combined
 * @throws the reason of the signal
 */
export async function forecast(input: ForecastInput, settings: ForecastSettings): Promise<ForecastResult> {
  const { scenario, source, file } = input;
  const question = questionOf(scenario, source, true);
  const { coupled, scales, usedUntil } = question;
  const { resolved } = coupled;
  const all = [...resolved.readings, ...input.readings].sort((a, b) => a.day - b.day);
  const readings = readingsBetween(all, usedUntil, resolved.management.days);
  const { seed, members, onProgress } = settings;
  const updated = await update(question, readings, {
    ...settings,
    seed,
    members,
    waveMembers: Math.ceil(WAVE_SHARE * members),
    waves: WAVES,
    onProgress: (done, of) => onProgress?.("runs", done, of),
  });
  const summary = summaryOf(question, updated);
  const words = new ForecastWords(resolved);
  const wanted = settings.diagnose === "always" || (settings.diagnose === "where needed" && updated.trust !== "claimed");
  const diagnosis =
    wanted && readings.length > 0
      ? diagnosisFrom(
          question,
          await runCauses(question, Math.max(20, Math.ceil(CAUSE_SHARE * members)), `${seed}/causes`, settings, (done, of) =>
            onProgress?.("causes", done, of),
          ),
          readings,
        )
      : null;
  return {
    name: scenario.name,
    question: scenario.question ?? "",
    file,
    seed,
    summary,
    trust: words.trust(summary),
    answers: words.answers(summary),
    inputs: inputWords(question, summary),
    contradictions: summary.contradicted.map((id) =>
      words.contradiction(question.inputs.find((one) => one.id === id)!, summary.inputs.find((one) => one.id === id)!),
    ),
    diagnosis,
    scales,
    readings: all,
    learned:
      summary.trust === "claimed" && readings.length > 0 ? learnedOf(question, summary, readings[readings.length - 1].day) : [],
  };
}

/** Converts a standard normal number to a fraction of the mature biomass, or to a factor on the usual value. */
function partOf(question: Question, { id, spread }: UncertainInput): (z: number) => number {
  const setup = question.setup.nitrogen[0];
  const byLaw = id === "wetted share" && !setup.uncertain["wetted share"];
  const [factor = 1] = byLaw ? nitrogenModelOf(setup).wettingUncertainty : [];
  return (z) => {
    const value = spread(normalShare(z));
    return byLaw ? pow(factor, value) : value;
  };
}

const percent = (part: number): string => `${Number((100 * part).toPrecision(2))} %`;

function inputWords(question: Question, summary: ForecastSummary): InputWords[] {
  return question.inputs.map((input, i) => {
    const part = partOf(question, input);
    const { before, after, spread } = summary.inputs[i];
    const three = ({ early, likely, late }: typeof before): string =>
      [early, likely, late].map((z) => percent(part(z))).join(" · ");
    return {
      id: input.id,
      name: INPUT_NAMES[input.id],
      before: three(before),
      after: three(after),
      left: Math.min(1, spread),
      why: input.why,
    };
  });
}

/**
 * The updated inputs in the scenario format. Correlated inputs are written independently, which widens the written ranges.
 */
function learnedOf(question: Question, summary: ForecastSummary, until: number): ForecastResult["learned"] {
  const edits: { path: (string | number)[]; value: Record<string, string> | string }[] = [];
  question.inputs.forEach((input, i) => {
    const { after, spread } = summary.inputs[i];
    if (spread > LEARNED && Math.abs(summary.inputs[i].mean) < 0.3) return;
    const part = partOf(question, input);
    const { early, likely, late } = after;
    if (input.id !== "seed") {
      edits.push({
        path: ["uncertain", input.id],
        value: { low: percentText(part(early)), likely: percentText(part(likely)), high: percentText(part(late)) },
      });
      return;
    }
    // The format gives a seed by its range. Each half is log-uniform around the middle, so the 10 % quantile is a fifth of
    // the way from the end to the middle.
    const end = (tenth: number, middle: number): number => middle * pow(tenth / middle, 1 / 0.8);
    const { where } = question.coupled.resolved.management.seed;
    const [low, share, high] = [end(part(early), part(likely)), part(likely), end(part(late), part(likely))];
    edits.push({
      path: ["seed"],
      value: {
        share: percentText(Math.min(1, share)),
        low: percentText(Math.min(1, low)),
        high: percentText(Math.min(1, high)),
        where,
      },
    });
  });
  edits.push({ path: ["uncertain", "readings used until"], value: dayText(until) });
  return edits;
}

const percentText = (part: number): string => {
  const value = Math.max(1e-4, 100 * part);
  return `${value >= 1 ? Number(value.toPrecision(3)) : value.toFixed(6).replace(/0+$/, "")} %`;
};

function dayText(day: number): string {
  const whole = Math.floor(day);
  const minutes = Math.round((day - whole) * 24 * 60);
  return minutes === 0
    ? `day ${whole}`
    : `day ${whole} ${String(Math.floor(minutes / 60)).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}`;
}
