// Forecast from a scenario and its readings: what the readings say, the power cut with uncertain hydraulics, and, if the readings do not fit,
// possible causes.

import { type Diagnosis, diagnosisFrom, runCauses } from "./diagnose.ts";
import { type HydraulicRange, hydraulicRange } from "./hydraulic-range.ts";
import { hydraulicSentences } from "./hydraulic-words.ts";
import { type ForecastInput, type Posterior, type PosteriorSettings, posteriorOf } from "./posterior.ts";

export interface ForecastSettings extends PosteriorSettings {
  /** Runs of the power cut with uncertain hydraulics; none when 0. */
  readonly hydraulicMembers: number;
  /** When to search for causes: always, only if the readings do not fit, or never. */
  readonly diagnose: "always" | "where needed" | "never";
}

export interface ForecastResult extends Posterior {
  readonly hydraulics: { readonly range: HydraulicRange; readonly sentences: readonly string[] } | null;
  readonly diagnosis: Diagnosis | null;
}

/** Members of each cause per member of the forecast. */
const CAUSE_SHARE = 0.15;

/**
 * Runs the forecast of a scenario.
 * @throws Error with a message for the user if the parts of the scenario cannot be combined
 * @throws the reason of the signal
 */
export async function forecast(input: ForecastInput, settings: ForecastSettings): Promise<ForecastResult> {
  const { question, used, posterior } = await posteriorOf(input, settings);
  const { seed, members, onProgress, pool, signal, diagnose, hydraulicMembers } = settings;
  const wanted = diagnose === "always" || (diagnose === "where needed" && posterior.summary.trust !== "claimed");
  const diagnosis =
    wanted && used.length > 0
      ? diagnosisFrom(
          question,
          await runCauses(
            question,
            Math.max(20, Math.ceil(CAUSE_SHARE * members)),
            `${seed}/causes`,
            { pool, signal },
            (done, of) => onProgress?.("causes", done, of),
          ),
          used,
        )
      : null;
  const { resolved } = question.coupled;
  const range = hydraulicMembers > 0 ? await hydraulicRange(resolved, hydraulicMembers, seed, signal) : null;
  return { ...posterior, hydraulics: range && { range, sentences: hydraulicSentences(resolved, range) }, diagnosis };
}
