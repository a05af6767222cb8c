// Pairs of ensemble members: each run with and without the incidents of a cluster, with the same uncertain inputs.
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import { type Cluster, highestIn, isSame } from "./incidents.ts";
import { including, mealFactor, type Range } from "./likelihood.ts";
import { answersPerMember, bandDays, type MemberQuestions, NO_READING } from "./members.ts";
import { CLEARED_NO2, CLEARED_TAN } from "./readiness.ts";

/** What the pairs of one cluster say. */
export interface Paired {
  /** Pairs that were run. */
  readonly count: number;
  /** Highest readings without the incidents, over the pairs. */
  readonly without: { readonly tan: Range; readonly no2: Range };
  /** Pairs in which a kit shows a reading that it would not show, or a clearly lower one, without the incidents. */
  readonly shows: number;
}

const FEWEST_PAIRS = 5;
const SUBSTANCES = ["tan", "no2"] as const;
const CLEARED = { tan: CLEARED_TAN, no2: CLEARED_NO2 };

/** The likely case of a cluster with and without its incidents, with meals and with even feeding as the members have it. */
export interface LikelyPair {
  readonly run: Run;
  readonly even: Run;
  readonly twin: Run;
  readonly evenTwin: Run;
}

/**
 * @param members values of the members that have twins (see `createMember`)
 * @param c number of the cluster
 * @returns null with too few pairs for a range
 */
export function pairedOf(
  members: Iterable<Float64Array>,
  questions: MemberQuestions,
  { from, until }: Cluster,
  c: number,
  { run, even, twin, evenTwin }: LikelyPair,
): Paired | null {
  const points = 3 * bandDays(run.aquarium.management.days).length + answersPerMember(questions);
  const first = points - answersPerMember(questions) + 2 + 2 * (1 + c);
  const pairs = SUBSTANCES.map((substance, s) => {
    const [now, nowEven, without, withoutEven] = [run, even, twin, evenTwin].map(
      (of) => highestIn(of, substance, from, until).value,
    );
    const [lift, liftTwin] = [mealFactor(now, nowEven), mealFactor(without, withoutEven)];
    const list = [...members].flatMap((values) => {
      const alone = values[points + 2 * c + s];
      return alone === NO_READING ? [] : [{ now: lift * values[first + s], without: liftTwin * alone }];
    });
    return { substance, list, without };
  });
  const count = Math.min(...pairs.map(({ list }) => list.length));
  if (count < FEWEST_PAIRS) return null;
  const range = ({ list, without }: (typeof pairs)[number]): Range => {
    const values = list.map((pair) => pair.without);
    return including([Math.min(...values), Math.max(...values)], without);
  };
  const shows = Array.from({ length: count }, (_, n) =>
    pairs.some(({ substance, list }) => list[n].now > CLEARED[substance] && !isSame(list[n].now, list[n].without)),
  );
  return { count, without: { tan: range(pairs[0]), no2: range(pairs[1]) }, shows: shows.filter(Boolean).length };
}
