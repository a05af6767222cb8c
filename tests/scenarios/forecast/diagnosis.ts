// Is the true cause found? Twelve causes, each hidden in synthetic tanks with noisy readings; how often it comes first, and among the first three.
// npm run study:diagnosis [tanks of each] [members of each cause]
import { fileURLToPath } from "node:url";
import type { CauseId } from "../../../scenarios/forecast/causes.ts";
import type { CoursePoint } from "../../../scenarios/forecast/course.ts";
import { type CauseMembers, causesOf, diagnosisFrom, pointsOf } from "../../../scenarios/forecast/diagnose.ts";
import { drawnReadings } from "../../../scenarios/forecast/kit.ts";
import type { Question } from "../../../scenarios/forecast/question.ts";
import { memberStream } from "../../../sim/ensemble/ensemble.ts";
import { type Pool, questionIn, runAll, threads } from "./bank.ts";

/** The causes of the study; what is left of the list competes with them. */
const HIDDEN: readonly CauseId[] = [
  "as written",
  "alkalinity gone",
  "too cold",
  "nitrite basis",
  "kit ends early",
  "dry media",
  "something dead",
  "wrong volume",
  "dead seed",
  "medicine",
  "overdose",
  "hidden uptake",
];
const KITS = ["ammonia", "nitrite", "nitrate", "ph", "alkalinity"] as const;

async function membersOf(
  question: Question,
  count: number,
  seed: string,
  ids: readonly CauseId[],
  pool: Pool,
): Promise<CauseMembers[]> {
  const causes = causesOf(question).filter(({ id }) => ids.includes(id));
  const running = causes.filter(({ id, change }) => change !== undefined || id === "as written");
  const points = running.map((cause) => pointsOf(question, cause, count, seed));
  const courses = await runAll(question, points.flat() as readonly CoursePoint[], pool, seed);
  const own = running.map(
    (cause, k): CauseMembers => ({ cause, points: points[k]!, courses: courses.slice(k * count, (k + 1) * count) }),
  );
  const plain = own.find(({ cause }) => cause.id === "as written")!;
  return causes.map((cause) => own.find((one) => one.cause === cause) ?? { ...plain, cause });
}

export interface Found {
  readonly cause: CauseId;
  readonly tanks: number;
  readonly first: number;
  readonly amongThree: number;
  /** What was taken for it, most often first. */
  readonly mistaken: readonly (readonly [CauseId, number])[];
}

export async function diagnosisStudy(question: Question, tanks: number, members: number, pool: Pool): Promise<readonly Found[]> {
  const candidates = await membersOf(
    question,
    members,
    "candidates",
    causesOf(question).map(({ id }) => id),
    pool,
  );
  const truths = await membersOf(question, tanks, "hidden", HIDDEN, pool);
  const asked = Array.from({ length: Math.floor(question.setup.days / 2) }, (_, n) =>
    KITS.map((of) => ({ day: 2 * n, of })),
  ).flat();
  return truths.map(({ cause, courses }) => {
    const scales = cause.kit?.(question.scales) ?? question.scales;
    const places: number[] = [];
    const mistaken = new Map<CauseId, number>();
    courses.forEach((course, t) => {
      if (!course) return;
      const drawn = drawnReadings(course, 0, scales, asked, memberStream(`${cause.id} ${t}`, 0));
      const readings = drawn.map((reading) => ({ ...reading, weight: 1 }));
      const { explanations } = diagnosisFrom(question, candidates, readings);
      const place = explanations.findIndex(({ id }) => id === cause.id);
      places.push(place);
      if (place > 0) mistaken.set(explanations[0]!.id, (mistaken.get(explanations[0]!.id) ?? 0) + 1);
    });
    return {
      cause: cause.id,
      tanks: places.length,
      first: places.filter((place) => place === 0).length,
      amongThree: places.filter((place) => place < 3).length,
      mistaken: [...mistaken].sort((a, b) => b[1] - a[1]),
    };
  });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [tanks = 20, members = 100] = process.argv.slice(2).map(Number);
  const question = questionIn("./data/diagnosis-tank.yaml");
  const pool = threads();
  const found = await diagnosisStudy(question, tanks, members, pool);
  await pool.close();
  const sum = (of: "tanks" | "first" | "amongThree") => found.reduce((total, one) => total + one[of], 0);
  for (const { cause, tanks: of, first, amongThree, mistaken } of found)
    console.log(
      `${cause.padEnd(18)} first ${first} of ${of}, among three ${amongThree}${mistaken.length > 0 ? `; else ${mistaken.map(([id, n]) => `${id} ${n}`).join(", ")}` : ""}`,
    );
  console.log(
    `all: first ${((100 * sum("first")) / sum("tanks")).toFixed(0)} %, among three ${((100 * sum("amongThree")) / sum("tanks")).toFixed(0)} %`,
  );
}
