// A medicine bath that kills part of the nitrifiers and inhibits the rest for some days.
import { ofEachStep } from "../kinetics/guilds.ts";
import { kill } from "../tank/operations.ts";
import { eventRule } from "./rule.ts";

export interface Medicine {
  readonly kind: "medicine";
  /** Shares of ammonia and nitrite oxidisers that it kills. */
  readonly aobLost: number;
  readonly nobLost: number;
  /** Share by which it inhibits the others, and for how long [d]. */
  readonly inhibition: number;
  readonly lastsDays: number;
}

export const medicineRule = eventRule<Medicine>(
  "medicine",
  ({ run }, { day, aobLost, nobLost, inhibition, lastsDays }) => {
    const { system } = run;
    run.alter((y) => {
      for (const f of system.wiring.films.keys()) kill(system, y, f, ofEachStep(aobLost, nobLost));
    });
    if (inhibition <= 0 || lastsDays <= 0) return;
    const [aobActivity, nobActivity] = [1 - inhibition, 1 - inhibition];
    run.adjust("medicine", (now) => ({ ...now, films: now.films.map((film) => ({ ...film, aobActivity, nobActivity })) }));
    run.eventQueue.at(day + lastsDays, () => run.adjust("medicine", null));
  },
  { isShock: () => true },
);
