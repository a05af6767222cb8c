// Severity of a finding, from its consequence and its likelihood.
import type { Consequence, Level, Likelihood } from "./result.ts";

const LEVELS: Readonly<Record<Consequence, Readonly<Record<Likelihood, Level>>>> = {
  loss: { planned: "alarm", expected: "alarm", possible: "watch", rare: "info" },
  harm: { planned: "watch", expected: "watch", possible: "info", rare: "info" },
  nuisance: { planned: "info", expected: "info", possible: "info", rare: "info" },
  none: { planned: "info", expected: "info", possible: "info", rare: "info" },
};

/** An alarm means stop: the plain plan or an everyday fault floods or kills. Rare faults are only reported. */
export const levelOf = (consequence: Consequence, likelihood: Likelihood): Level => LEVELS[consequence][likelihood];
