// A substance from a bottle: ammonia for a fishless cycle, bicarbonate, chloride.
import type { DoseSubstance } from "../management.ts";
import { dose } from "../tank/operations.ts";
import { eventRule } from "./rule.ts";

export interface Dose {
  readonly kind: "dose";
  readonly substance: DoseSubstance;
  /** Amount for all the water [g N, eq or g Cl]; or a level to reach [the same per m³]. */
  readonly amount: number | null;
  readonly toLevel: number | null;
  /** Skip the dose unless TAN and nitrite in the first display [g N/m³] are both below these. */
  readonly onlyBelow: { readonly tan: number; readonly no2: number } | null;
  /** Whether the rules of `challenge-test.ts` decide on the dose; a dose that the plan states is given as written. */
  readonly routine?: boolean;
}

export const doseRule = eventRule<Dose>(
  "dose",
  ({ run, challengeTest }, { day, substance, amount, toLevel, onlyBelow, routine }) => {
    const feedsBacteria = substance === "ammonia" || substance === "ammonium";
    if (feedsBacteria) challengeTest.look(day);
    if (onlyBelow && !(run.inDisplay("tan") < onlyBelow.tan && run.inDisplay("no2") < onlyBelow.no2)) return false;
    const share = routine ? challengeTest.routineShare(day) : 1;
    if (share === 0) return false;
    if (feedsBacteria) challengeTest.dosed(day);
    if (share < 1) run.mark(day, "dose", `ammonia, ${share === 0.5 ? "half" : share} the usual dose`);
    run.book(`dosed ${substance}`, (y) => {
      const gramsChloride = dose(run.system, y, substance, amount, toLevel === null ? null : share * toLevel);
      run.chlorideGPerM3 += gramsChloride / run.aquarium.exchange.volumesM3.reduce((a, b) => a + b, 0);
    });
    // A smaller dose has already been recorded.
    return share === 1;
  },
  { isHabit: ({ substance }) => substance === "bicarbonate" },
);
