// npm run calibrate -- --members 200 --truths 200 --seed any
//
// How often "nine runs in ten" holds. Hidden truths are drawn afresh from the same uncertain inputs and run as the likely run is, with every
// meal; counted is how often each lies in what is printed: the band of each chart, the range of each highest reading and of what the filter
// can handle. A sample of n members gives its 5th and 95th percentile a little less than nine tenths: about (n - 4)/(n + 1) for n = 40.
import { parseArgs } from "node:util";
import { errorText, loadScenario } from "../../scenarios/load/load.ts";
import { coupleModels } from "../../scenarios/model/compile.ts";
import { highestIn } from "../../scenarios/model/incidents.ts";
import { spreadOf } from "../../scenarios/model/likelihood.ts";
import { answersPerMember, bandDays, createMember, memberSamples, NO_TWINS, runSample } from "../../scenarios/model/members.ts";
import { carriesAt } from "../../scenarios/model/readiness.ts";
import { nitrogenResult } from "../../scenarios/report/nitrogen-report.ts";
import { Answers } from "../../scenarios/run/answers.ts";
import { memberStream, ownThreadPool, runEnsemble } from "../../sim/ensemble/ensemble.ts";

/** A small tank that more animals come to: meals, a filter that grows, and a spike. */
export const CHEAP_TANK = `
sumpwright: 1
name: A tank for counting
question: What do ten more fish do?
tank: { outside: 60 x 35 x 40 cm }
sump: { outside: 50 x 30 x 35 cm, water: 17 cm }
tower: none
return: { pump: 700 L/h, outlet: 3 cm, hole: { bore: 4 mm, depth: 1 cm } }
water: { temperature: 25 °C, kh: 8 dKH }
kit: { ammonia: NH4, nitrite: NO2, nitrate: NO3 }
seed: { share: 30 %, low: 10 %, high: 60 % }
stock:
  - { name: fish, count: 6, mass: 3 g, food: 0.4 g/day }
  - { name: more fish, count: 10, mass: 3 g, food: 1.2 g/day, arrives: day 8 }
days: 20
`;

export interface Coverage {
  readonly what: string;
  /** Shares of the truths, or of all points of all truths, that lie inside. */
  readonly share: number;
}

/** How often hidden truths lie in the printed ranges, and how often a band had to be widened to hold the likely line. */
export async function coverageOf(
  text: string,
  { members, truths, seed }: { readonly members: number; readonly truths: number; readonly seed: string },
): Promise<{ readonly coverage: readonly Coverage[]; readonly widened: number }> {
  const loaded = loadScenario(text, "calibration.yaml");
  if (!loaded.ok) throw new Error(loaded.errors.map(errorText).join("\n"));
  const asked = new Answers(coupleModels(loaded.scenario, text), { matrix: false });
  const [setup, likely, questions] = [asked.setup(), asked.run(), asked.questions()];
  const { days } = asked.resolved.management;
  const ensemble = await runEnsemble({
    pool: ownThreadPool(createMember),
    setup: { nitrogen: [setup], seed, members, days, proof: asked.proof, questions, twins: NO_TWINS },
    seed,
    members,
    points: 3 * bandDays(days).length + answersPerMember(questions),
    chunk: members,
  });
  const { bands } = nitrogenResult(likely, likely.states.length - 1, ensemble, [], asked.even());
  const spread = spreadOf(ensemble, likely, asked.even(), questions, {
    readyDay: asked.ready().day,
    carries: asked.capacity().carriesGNPerDay,
  });
  if (!spread || bands.length === 0) throw new Error("too few members for a band");

  const inside = new Map<string, number[]>();
  const count = (what: string, value: number, low: number, high: number): void => {
    inside.set(what, [...(inside.get(what) ?? []), value >= low && value <= high ? 1 : 0]);
  };
  const sampleOf = memberSamples([setup], `hidden ${seed}`, truths);
  const outputsPerDay = Math.round((likely.days.length - 1) / days);
  for (let n = 0; n < truths; n++) {
    const sample = sampleOf(n, memberStream(`hidden ${seed}`, n));
    const truth = runSample(asked.baseCase(), sample, { outputsPerDay, relative: 1e-4, proof: asked.proof });
    if (truth.outcome.status !== "finished") throw new Error(`truth ${n} could not be run`);
    const { layout, displayCells } = truth.aquarium;
    for (const { series, low, high } of bands) {
      const i = layout.cellIndex(displayCells[0], series as "tan");
      for (let m = 1; m < Math.min(truth.days.length, low.length); m++)
        count(`band of ${series}`, truth.states[m][i], low[m], high[m]);
    }
    count("can handle", carriesAt(truth, truth.days.length - 1), ...spread.carries);
    questions.windows.forEach(([from, until], w) => {
      for (const substance of ["tan", "no2"] as const)
        count(
          `highest ${substance} of window ${w}`,
          highestIn(truth, substance, from, until).value,
          ...spread.highest[w][substance],
        );
    });
  }
  const mean = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0) / list.length;
  const touched = bands.flatMap(({ series, low, high }) => {
    const values = likely.states.map((y) =>
      Number(Math.max(0, y[likely.aquarium.layout.cellIndex(likely.aquarium.displayCells[0], series as "tan")]).toPrecision(5)),
    );
    return low.slice(1).map((least, m) => (least === values[m + 1] || high[m + 1] === values[m + 1] ? 1 : 0));
  });
  return { coverage: [...inside].map(([what, list]) => ({ what, share: mean(list) })), widened: mean(touched) };
}

if (process.argv[1] && import.meta.url === new URL(`file://${process.argv[1]}`).href) {
  const { values: given } = parseArgs({
    options: {
      members: { type: "string", default: "200" },
      truths: { type: "string", default: "200" },
      seed: { type: "string", default: "1" },
    },
  });
  const { coverage, widened } = await coverageOf(CHEAP_TANK, {
    members: Number(given.members),
    truths: Number(given.truths),
    seed: given.seed,
  });
  for (const { what, share } of coverage) console.log(`${what}: ${(100 * share).toFixed(1)} % of ${given.truths} truths inside`);
  console.log(
    `the likely line is outside the plain band, which is widened for it, at ${(100 * widened).toFixed(1)} % of all times`,
  );
}
