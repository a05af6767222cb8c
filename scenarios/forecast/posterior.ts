// What the readings of a scenario say of its inputs and answers: members, update, summary, words.

import { normalShare } from "../../sim/design/distributions.ts";
import { pow } from "../../sim/elementary.ts";
import type { Plain } from "../load/edits.ts";
import { nitrogenModelOf } from "../model/compile.ts";
import type { UncertainInput } from "../model/uncertain.ts";
import type { KitReading } from "../result/result.ts";
import type { Scenario } from "../schema/schema.ts";
import type { CourseRunner } from "./course.ts";
import { type KitScale, type Reading, readingsBetween } from "./kit.ts";
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

export interface PosteriorSettings extends Omit<CourseRunner, "onProgress"> {
  readonly seed: string;
  /** Members drawn from the prior. */
  readonly members: number;
  /** Members of each later wave, largest number of such waves, and effective members at which no further wave is needed; usual values by default. */
  readonly waves?: { readonly members: number; readonly most: number; readonly enough: number };
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

export interface Posterior {
  readonly name: string;
  readonly question: string;
  readonly file: string;
  readonly seed: string;
  readonly summary: ForecastSummary;
  readonly trust: string;
  readonly answers: readonly AnswerSentence[];
  readonly inputs: readonly InputWords[];
  readonly contradictions: readonly string[];
  readonly scales: readonly KitScale[];
  readonly readings: readonly KitReading[];
  /** Edits that write the updated inputs into the scenario; empty if the update is not trusted. */
  readonly learned: readonly {
    readonly path: readonly (string | number)[];
    readonly value: Plain;
  }[];
}

/** Size of a later wave relative to the first, and largest number of later waves. */
const WAVE_SHARE = 0.25;
const WAVES = 4;
/** Effective sample size at which no further wave is needed. */
const ENOUGH = 80;
/** An input is written into the scenario if its spread has fallen below this fraction. */
const LEARNED = 0.9;

/** The answer with what it rests on: the prepared scenario, and the readings that were used. */
export interface Updated {
  readonly question: Question;
  readonly used: readonly Reading[];
  readonly posterior: Posterior;
}

/**
 * Runs members and updates them by the readings.
 * @throws Error with a message for the user if the parts of the scenario cannot be combined
 * @throws the reason of the signal
 */
export async function posteriorOf(input: ForecastInput, settings: PosteriorSettings): Promise<Updated> {
  const { scenario, source, file } = input;
  const question = questionOf(scenario, source, true);
  const { coupled, scales, usedUntil } = question;
  const { resolved } = coupled;
  const all = [...resolved.readings, ...input.readings].sort((a, b) => a.day - b.day);
  const used = readingsBetween(all, usedUntil, resolved.management.days);
  const { seed, members, onProgress, pool, signal } = settings;
  const { waves = { members: Math.ceil(WAVE_SHARE * members), most: WAVES, enough: ENOUGH } } = settings;
  const updated = await update(question, used, {
    pool,
    signal,
    seed,
    members,
    waveMembers: waves.members,
    waves: waves.most,
    enough: waves.enough,
    onProgress: (done, of) => onProgress?.("runs", done, of),
  });
  const summary = summaryOf(question, updated);
  const words = new ForecastWords(resolved);
  const posterior: Posterior = {
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
    scales,
    readings: all,
    learned: summary.trust === "claimed" && used.length > 0 ? learnedOf(question, summary, used[used.length - 1].day) : [],
  };
  return { question, used, posterior };
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

/** The updated inputs in the scenario format: the range of each, and which go together. */
function learnedOf(question: Question, summary: ForecastSummary, until: number): Posterior["learned"] {
  const edits: { path: (string | number)[]; value: Plain }[] = [];
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
  if (summary.ties.length > 0)
    edits.push({
      path: ["uncertain", "together"],
      value: summary.ties.map(({ one, other, correlation }) => ({ one, other, correlation: Number(correlation.toFixed(2)) })),
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
