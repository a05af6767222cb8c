// "What would change this answer": one input moved at a time, the three that move it most, in words.

import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import { log } from "../../sim/elementary.ts";
import type { NitrogenSetup } from "../model/compile.ts";
import {
  type BaseCase,
  type MemberChallengeResult,
  nominalSample,
  prepareBaseCase,
  runSample,
  type Sample,
} from "../model/members.ts";
import { CLEARED_NO2 } from "../model/readiness.ts";
import type { RunResult } from "../result/result.ts";
import * as format from "../text/format.ts";
import { above, peakOf, track } from "./cycle.ts";

interface Change {
  readonly input: string;
  /** How the change reads: "3 °C colder". */
  readonly words: string;
  readonly setup: (setup: NitrogenSetup) => NitrogenSetup;
  readonly sample?: (sample: Sample) => Sample;
}

const management =
  (change: (h: NitrogenSetup["management"]) => NitrogenSetup["management"]) =>
  (setup: NitrogenSetup): NitrogenSetup => ({ ...setup, management: change(setup.management) });

const changes: readonly Change[] = [
  { input: "temperature", words: "3 °C colder", setup: management((h) => ({ ...h, temperatureC: h.temperatureC - 3 })) },
  {
    input: "seed",
    words: "ten times the seed",
    setup: (setup) => setup,
    sample: (sample) => ({ ...sample, inoculumShare: Math.min(1, sample.inoculumShare * 10) }),
  },
  {
    input: "media",
    words: "half the media",
    setup: (setup) => ({
      ...setup,
      rig: { ...setup.rig, towers: setup.rig.towers.map((tower) => ({ ...tower, mediaDepthM: tower.mediaDepthM / 2 })) },
    }),
  },
  {
    input: "food",
    words: "half as much food again",
    setup: management((h) => ({ ...h, groups: h.groups.map((group) => ({ ...group, foodGPerDay: group.foodGPerDay * 1.5 })) })),
  },
  {
    input: "alkalinity",
    words: "half the alkalinity",
    setup: management((h) => ({
      ...h,
      start: { ...h.start, alkalinityEqPerM3: h.start.alkalinityEqPerM3 / 2 },
      tap: { ...h.tap, alkalinityEqPerM3: h.tap.alkalinityEqPerM3 / 2 },
    })),
  },
  {
    input: "other surfaces",
    words: "twice the glass, rock and gravel",
    setup: management((h) => ({ ...h, surfaces: { displayM2: h.surfaces.displayM2 * 2 } })),
  },
];

interface Metric {
  readonly value: number;
  readonly words: (before: number, after: number) => string;
}

/** What the answer is measured by: the day it is ready, or how bad nitrite and ammonia get. */
function measure(run: Run, cycling: boolean): Metric {
  if (cycling) {
    const day = run.provenDay ?? run.aquarium.management.days + 30;
    return {
      value: day,
      words: (before, after) =>
        after > run.aquarium.management.days
          ? "not ready within the run"
          : `ready about ${Math.abs(Math.round(after - before))} days ${after > before ? "later" : "sooner"}`,
    };
  }
  const no2 = track(run, "no2");
  const tan = track(run, "tan");
  return {
    value: peakOf(no2).value + peakOf(tan).value + 0.02 * above(no2, CLEARED_NO2).days,
    words: (before, after) =>
      `the worst of ammonia and nitrite ${after > before ? "rises" : "falls"} to ${format.plain(after / Math.max(before, 1e-6), 2)} times`,
  };
}

export function sensitivities(ground: BaseCase, proof: MemberChallengeResult, cycling: boolean): RunResult["sensitivities"] {
  const { setup } = ground;
  const detail = { outputsPerDay: 4, relative: 1e-3, proof };
  const before = measure(runSample(ground, nominalSample(setup), detail, { evenFeeding: true }), cycling).value;
  return changes
    .flatMap((change) => {
      if (change.input === "food" && setup.management.groups.length === 0) return [];
      const changed = change.setup(setup);
      const run = runSample(
        prepareBaseCase(changed, () => ground.mature),
        (change.sample ?? ((s) => s))(nominalSample(changed)),
        detail,
        {
          evenFeeding: true,
        },
      );
      if (run.outcome.status !== "finished") return [];
      const after = measure(run, cycling);
      const effect = cycling ? after.value - before : log(Math.max(after.value, 1e-6) / Math.max(before, 1e-6));
      return [{ input: change.input, effect, text: `${change.words}: ${after.words(before, after.value)}` }];
    })
    .filter(({ effect }) => Math.abs(effect) > (cycling ? 0.9 : 0.05))
    .sort((a, b) => Math.abs(b.effect) - Math.abs(a.effect))
    .slice(0, 3);
}
