// Do the bands tell the truth? Synthetic tanks with hidden inputs, forecast before readings and after one, two and three weeks of them; and tanks that
// are not as the model says. Prints a table and writes a picture: npm run study:forecast [tanks] [members]
import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { parameters } from "../../../models/nitrogen/kinetics/parameters.ts";
import { runSimulation } from "../../../models/nitrogen/simulation/simulation.ts";
import { inoculatedStock } from "../../../models/nitrogen/tank/biofilm-stock.ts";
import { causeNamed } from "../../../scenarios/forecast/causes.ts";
import { COURSE_POINTS_PER_DAY, type Course, courseOf } from "../../../scenarios/forecast/course.ts";
import { drawnReadings, type KitErrors, type Reading } from "../../../scenarios/forecast/kit.ts";
import type { Question } from "../../../scenarios/forecast/question.ts";
import { type Members, reweighted } from "../../../scenarios/forecast/update.ts";
import { nitrogenModelOf } from "../../../scenarios/model/compile.ts";
import { prepareBaseCase } from "../../../scenarios/model/members.ts";
import { kineticsOf, sampleAt, setupWith } from "../../../scenarios/model/uncertain.ts";
import { memberStream } from "../../../sim/ensemble/ensemble.ts";
import { AdaptiveImportance } from "../../../sim/inference/adaptive-importance.ts";
import { weightedQuantiles } from "../../../sim/inference/weights.ts";
import { everySecondDay, membersOf, questionIn, runAll, threads } from "./bank.ts";

export const WEEKS = [0, 1, 2, 3] as const;

export interface Look {
  readonly week: number;
  readonly tanks: number;
  /** Share of the true ready days inside the band; among those claimed only. */
  readonly covered: number;
  readonly coveredOfClaimed: number;
  readonly claimed: number;
  readonly misfit: number;
  /** Mean width of the band [d], an end that is not within the run counted as the last day. */
  readonly width: number;
}

/** The forecasts of one tank, by week. */
function looks(question: Question, members: Members, truth: Course, seed: string, errors: KitErrors = {}) {
  const readings = drawnReadings(truth, 0, question.scales, everySecondDay(21), memberStream(seed, 0), errors);
  const last = question.setup.days;
  return WEEKS.map((week) => {
    const until: readonly Reading[] =
      week === 0 ? [] : readings.filter(({ day }) => day <= 7 * week).map((reading) => ({ ...reading, weight: 1 }));
    const { after, trust } = reweighted(question, members, until, seed);
    const days = after.courses.map((course) => course?.answers["ready day"] ?? Number.NaN);
    const [early, late] = weightedQuantiles(days, after.weights, [0.1, 0.9]) as [number, number];
    const day = truth.answers["ready day"];
    return { covered: day >= early && day <= late, trust, width: Math.min(late, last) - Math.min(early, last) };
  });
}

function summarised(all: readonly ReturnType<typeof looks>[]): Look[] {
  return WEEKS.map((week, w) => {
    const own = all.map((tank) => tank[w]!);
    const claimed = own.filter(({ trust }) => trust === "claimed");
    const share = (list: typeof own) => list.filter(({ covered }) => covered).length / Math.max(1, list.length);
    return {
      week,
      tanks: own.length,
      covered: share(own),
      coveredOfClaimed: share(claimed),
      claimed: claimed.length / own.length,
      misfit: own.filter(({ trust }) => trust === "misfit").length / own.length,
      width: own.reduce((sum, { width }) => sum + width, 0) / own.length,
    };
  });
}

/** Coverage where the model is right: the tanks are drawn by what is known beforehand. */
export async function coverage(
  question: Question,
  members: Members,
  tanks: number,
  pool: ReturnType<typeof threads>,
): Promise<Look[]> {
  const points = new AdaptiveImportance(question.inputs.length, "hidden tanks").propose(tanks);
  const truths = await runAll(
    question,
    points.map((z) => ({ which: 0, z: Array.from(z) })),
    pool,
    "tanks",
  );
  return summarised(truths.flatMap((truth, t) => (truth ? [looks(question, members, truth, `tank ${t}`)] : [])));
}

/** Numbers of the kinetics that no forecast spreads, at the ends of their published ranges. */
const OTHER_KINETICS = {
  aobDecay: parameters.aobDecay.max,
  nobDecay: parameters.nobDecay.max,
  aobHalfO2: parameters.aobHalfO2.max,
  nobHalfO2: parameters.nobHalfO2.max,
  nobYield: parameters.nobYield.max,
  aobEnergy: parameters.aobEnergy.min,
} as const;

/** Coverage where it is wrong on purpose: other kinetics; kits that lie; nitrogen that goes unseen. */
export async function misspecified(question: Question, members: Members, tanks: number): Promise<Record<string, Look[]>> {
  const base = prepareBaseCase(question.setup.nitrogen[0]!);
  const points = new AdaptiveImportance(question.inputs.length, "wrong tanks").propose(tanks);
  const truth = (z: Float64Array, changed: typeof base, kinetics: object): Course => {
    const sample = sampleAt(changed.setup, question.inputs, z);
    const setup = setupWith(changed.setup, sample);
    const aquarium = nitrogenModelOf(setup, { ...kineticsOf(sample), ...kinetics });
    const run = runSimulation(aquarium, {
      outputsPerDay: COURSE_POINTS_PER_DAY,
      relative: 1e-2,
      proof: question.setup.proof,
      begin: inoculatedStock(aquarium, base.mature, sample.inoculumShare, setup.management.seed.where),
      stop: null,
      evenFeeding: true,
    });
    return courseOf(run, question.setup);
  };
  const hidden = causeNamed("hidden uptake").change!;
  const kinds: Record<string, (z: Float64Array, t: number) => ReturnType<typeof looks>> = {
    "other kinetics": (z, t) => looks(question, members, truth(z, base, OTHER_KINETICS), `kinetics ${t}`),
    "a lying nitrite kit": (z, t) => looks(question, members, truth(z, base, {}), `kit ${t}`, { factor: { nitrite: 0.4 } }),
    "hidden uptake": (z, t) => looks(question, members, truth(z, hidden(base, [0.5, 0.5]), {}), `loss ${t}`),
  };
  return Object.fromEntries(Object.entries(kinds).map(([kind, one]) => [kind, summarised(points.map(one))]));
}

const percent = (share: number): string => `${(100 * share).toFixed(0)} %`;
const line = ({ week, covered, coveredOfClaimed, claimed, misfit, width }: Look): string =>
  `week ${week}: ${percent(covered)} covered (${percent(coveredOfClaimed)} of the ${percent(claimed)} claimed), ${percent(misfit)} said not to fit, width ${width.toFixed(1)} d`;

/** Coverage and width by week, as a picture of its own. */
export function picture(found: readonly Look[], tanks: number): string {
  const x = (week: number): number => 90 + 130 * week;
  const y = (share: number): number => 250 - 200 * share;
  const widest = found[0]!.width;
  const at = (points: readonly (readonly [number, number])[]): string =>
    points.map(([px, py]) => `${px},${py.toFixed(1)}`).join(" ");
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 620 320" font-family="sans-serif" font-size="13">
<title>How often the true ready day lies in its band, and how wide the band is, by weeks of readings</title>
<rect width="620" height="320" fill="#fbf9f2"/>
<text x="20" y="26" font-size="16" fill="#222">Bands of the ready day on ${tanks} synthetic tanks</text>
<rect x="90" y="${y(0.86)}" width="390" height="${y(0.74) - y(0.86)}" fill="#cfe3ee"/>
<text x="488" y="${y(0.8) + 4}" fill="#444">asked: 80 ± 6 %</text>
${[0, 0.2, 0.4, 0.6, 0.8, 1].map((share) => `<path d="M90,${y(share)}H480" stroke="#ddd"/><text x="80" y="${y(share) + 4}" text-anchor="end" fill="#444">${100 * share} %</text>`).join("\n")}
<polyline points="${at(found.map(({ week, covered }) => [x(week), y(covered)]))}" fill="none" stroke="#16577a" stroke-width="2"/>
${found.map(({ week, covered }) => `<circle cx="${x(week)}" cy="${y(covered).toFixed(1)}" r="5" fill="#16577a"/><text x="${x(week)}" y="${(y(covered) - 11).toFixed(1)}" text-anchor="middle" fill="#16577a">${percent(covered)}</text>`).join("\n")}
<polyline points="${at(found.map(({ week, width }) => [x(week), y(width / widest)]))}" fill="none" stroke="#222" stroke-width="1.5" stroke-dasharray="6 4"/>
${found.map(({ week, width }) => `<text x="${x(week) + 8}" y="${(y(width / widest) + 18).toFixed(1)}" fill="#222">${width.toFixed(0)} d</text>`).join("\n")}
${found.map(({ week }) => `<text x="${x(week)}" y="274" text-anchor="middle" fill="#444">${week === 0 ? "no readings" : `${week} week${week > 1 ? "s" : ""}`}</text>`).join("\n")}
<text x="20" y="304" fill="#444">Line: true day inside the band of eight in ten. Dashed: width of the band, of the first.</text>
</svg>
`;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [tanks = 200, count = 1500] = process.argv.slice(2).map(Number);
  const question = questionIn("../../../scenarios/shipped/first-tank.yaml");
  const pool = threads();
  const begun = process.cpuUsage();
  const members = await membersOf(question, count, "members", pool);
  const used = process.cpuUsage(begun);
  console.log(`${((used.user + used.system) / 1000 / count).toFixed(0)} ms of processor for each run`);
  const found = await coverage(question, members, tanks, pool);
  await pool.close();
  console.log(`Ready day of ${tanks} tanks:`);
  for (const look of found) console.log(`  ${line(look)}`);
  for (const [kind, wrong] of Object.entries(await misspecified(question, members, Math.ceil(tanks / 5)))) {
    console.log(`${kind}:`);
    for (const look of wrong) console.log(`  ${line(look)}`);
  }
  writeFileSync(fileURLToPath(new URL("../../../viz/pictures/coverage.svg", import.meta.url)), picture(found, tanks));
}
