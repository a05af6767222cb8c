// "What would change this answer most": things a keeper can change, one at a time, each run to its own end.

import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import { log } from "../../sim/elementary.ts";
import type { ResolvedScenario } from "../build/build.ts";
import type { NitrogenSetup } from "../model/compile.ts";
import {
  type BaseCase,
  type MemberChallengeResult,
  memberDetail,
  nominalSample,
  prepareBaseCase,
  runSample,
  type Sample,
} from "../model/members.ts";
import { readiness } from "../model/readiness.ts";
import type { RunResult } from "../result/result.ts";
import * as format from "../text/format.ts";
import { peakOf, track } from "./series.ts";

interface Change {
  readonly input: string;
  /** How the change reads: "3 °C warmer". */
  readonly words: string;
  readonly applies?: (setup: NitrogenSetup) => boolean;
  readonly setup?: (setup: NitrogenSetup) => NitrogenSetup;
  readonly sample?: (sample: Sample) => Sample;
}

type Plan = NitrogenSetup["management"];

const plan =
  (change: (management: Plan) => Plan) =>
  (setup: NitrogenSetup): NitrogenSetup => ({ ...setup, management: change(setup.management) });

/** Nitrification gains little above this, and most animals lose [°C] (common practice, no published source). */
const WARM_ENOUGH_C = 28;
/** A seed of a quarter of a mature filter is about what a friend can spare (common practice, no published source). */
const SPARED_SEED = 0.25;
/** Wetting of a well levelled drip plate (modelling assumption). */
const WELL_WETTED = 0.8;

const doses = ({ events }: Plan): boolean => events.some(({ kind }) => kind === "dose");
const changesWater = ({ events }: Plan): boolean => events.some(({ kind }) => kind === "water change");

const CHANGES: readonly Change[] = [
  {
    input: "temperature",
    words: "the water 3 °C warmer",
    applies: ({ management }) => management.temperatureC + 3 <= WARM_ENOUGH_C && management.groups.length === 0,
    setup: plan((m) => ({ ...m, temperatureC: m.temperatureC + 3 })),
  },
  {
    input: "seed",
    words: "a quarter of a mature filter as seed",
    applies: ({ management }) => management.seed.likely < SPARED_SEED,
    sample: (sample) => ({ ...sample, inoculumShare: SPARED_SEED }),
  },
  {
    input: "alkalinity",
    words: "twice the alkalinity",
    setup: plan((m) => ({
      ...m,
      start: { ...m.start, alkalinityEqPerM3: 2 * m.start.alkalinityEqPerM3 },
      tap: { ...m.tap, alkalinityEqPerM3: 2 * m.tap.alkalinityEqPerM3 },
    })),
  },
  {
    input: "dose",
    words: "half the dose each time",
    applies: ({ management }) => doses(management) && management.groups.length === 0,
    setup: plan((m) => ({
      ...m,
      events: m.events.map((event) =>
        event.kind === "dose"
          ? { ...event, amount: event.amount && event.amount / 2, toLevel: event.toLevel && event.toLevel / 2 }
          : event,
      ),
    })),
  },
  {
    input: "water changes",
    words: "twice as much water each change",
    applies: ({ management }) => changesWater(management),
    setup: plan((m) => ({
      ...m,
      events: m.events.map((event) =>
        event.kind === "water change" ? { ...event, share: Math.min(0.9, 2 * event.share) } : event,
      ),
    })),
  },
  {
    input: "food",
    words: "half the food",
    applies: ({ management }) => management.groups.length > 0,
    setup: plan((m) => ({ ...m, groups: m.groups.map((group) => ({ ...group, foodGPerDay: group.foodGPerDay / 2 })) })),
  },
  {
    input: "media",
    words: "twice the media",
    applies: ({ rig }) => rig.towers.length > 0,
    setup: (setup) => ({
      ...setup,
      rig: { ...setup.rig, towers: setup.rig.towers.map((tower) => ({ ...tower, mediaDepthM: 2 * tower.mediaDepthM })) },
    }),
  },
  {
    input: "wetting",
    words: `${100 * WELL_WETTED} % of the media wetted`,
    applies: ({ rig }) => rig.towers.some(({ wettedShare }) => wettedShare !== null && wettedShare < WELL_WETTED),
    setup: (setup) => ({
      ...setup,
      rig: { ...setup.rig, towers: setup.rig.towers.map((tower) => ({ ...tower, wettedShare: WELL_WETTED })) },
    }),
  },
];

/** A run that is not ready goes on for so much longer, so that no answer hangs on the last day. */
const LONGER = 2;
const LONGEST_DAYS = 240;
/** Smaller changes are not worth a line: days, and share of a reading. */
const WORTH_DAYS = 2;
const WORTH_SHARE = 0.1;
const MOST_LINES = 3;

/** @param readyDay of the likely run; null when not within it */
export function sensitivities(
  ground: BaseCase,
  proof: MemberChallengeResult,
  { fishless, ask, units }: ResolvedScenario,
  readyDay: number | null,
): RunResult["sensitivities"] {
  const { setup } = ground;
  const detail = { ...memberDetail, proof };
  const days = Math.min(LONGEST_DAYS, Math.max(setup.management.days, LONGER * (readyDay ?? setup.management.days)));
  const runWith = (change: Change | null): Run | null => {
    const longer = fishless ? plan((m) => ({ ...m, days }))(setup) : setup;
    const changed = change?.setup?.(longer) ?? longer;
    const nominal = nominalSample(changed);
    const run = runSample(
      prepareBaseCase(changed, () => ground.mature),
      change?.sample?.(nominal) ?? nominal,
      detail,
      { evenFeeding: true },
    );
    return run.outcome.status === "finished" ? run : null;
  };
  const before = runWith(null);
  if (!before) return [];
  const measure = fishless ? measureReady(before, ask, days) : measureWorst(before);
  return CHANGES.filter(({ applies }) => applies?.(setup) ?? true)
    .flatMap((change) => {
      const run = runWith(change);
      const found = run && measure(run);
      return found
        ? [
            {
              input: change.input,
              effect: found.effect,
              text: `With ${units === "US" ? change.words.replace("3 °C", "5 °F") : change.words}: ${found.words}.`,
            },
          ]
        : [];
    })
    .sort((a, b) => Math.abs(b.effect) - Math.abs(a.effect))
    .slice(0, MOST_LINES);
}

interface Found {
  readonly effect: number;
  readonly words: string;
}

function measureReady(before: Run, ask: ResolvedScenario["ask"], days: number) {
  const was = readiness(before, ask, true).day;
  return (run: Run): Found | null => {
    const now = readiness(run, ask, true).day;
    if (now === null) return was === null ? null : { effect: days, words: `not ready within ${days} days` };
    if (was === null) return { effect: -days, words: `ready on about day ${format.dayOf(now)}` };
    const later = Math.round(now - was);
    if (Math.abs(later) < WORTH_DAYS) return null;
    return { effect: later, words: `ready about ${Math.abs(later)} days ${later > 0 ? "later" : "sooner"}` };
  };
}

/** The worse of ammonia and nitrite, whichever changes more. */
function measureWorst(before: Run) {
  const of = (run: Run, substance: "tan" | "no2") => peakOf(track(run, substance)).value;
  return (run: Run): Found | null => {
    const changes = (["tan", "no2"] as const).map((substance) => ({
      name: substance === "tan" ? "ammonia" : "nitrite",
      times: of(run, substance) / Math.max(of(before, substance), 1e-6),
      was: of(before, substance),
    }));
    const [main] = changes.filter(({ was }) => was > 0.02).sort((a, b) => Math.abs(log(b.times)) - Math.abs(log(a.times)));
    if (!main || Math.abs(main.times - 1) < WORTH_SHARE) return null;
    const share = Math.round(100 * main.times);
    return {
      effect: log(main.times),
      words:
        main.times > 1.95
          ? `the highest ${main.name} becomes ${format.plain(main.times, 2)} times as high`
          : `the highest ${main.name} becomes ${share} % of what it is now`,
    };
  };
}
