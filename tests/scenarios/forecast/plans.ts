// Does a plan keep its promise? Tanks that differ in size, temperature, seed and animals, each with a plan at the usual settings; then every plan is
// simulated again with members of another random seed and meals. npm run study:plans [plans] [members of each trial] [members of the check and after] [number of the first]
import { fileURLToPath } from "node:url";
import seedrandom from "seedrandom";
import { type CourseSetup, runCourses } from "../../../scenarios/forecast/course.ts";
import { JUDGED_DAYS, type PlanRequest, type StockingPlan, stockingPlan } from "../../../scenarios/forecast/plan.ts";
import { keptBy, type LimitCheck, pointsWith } from "../../../scenarios/forecast/promise.ts";
import { type Question, questionOf } from "../../../scenarios/forecast/question.ts";
import { loadScenario } from "../../../scenarios/load/load.ts";
import type { MemberPool } from "../../../sim/ensemble/ensemble.ts";
import { type Pool, threads } from "./bank.ts";

/** A random tank with animals to plan for: half of them start with a seed of a running tank, half without animals and without seed. */
export function tankText(seed: string): string {
  const random = seedrandom(seed);
  const between = (low: number, high: number): number => low + (high - low) * random();
  const whole = (low: number, high: number): number => Math.round(between(low, high));
  const [length, width, height] = [whole(80, 140), whole(35, 55), whole(40, 60)];
  const litres = (length * width * height) / 1000;
  // Up to a gram of food a day for 60 L.
  const food = between(0.3, 1) * (litres / 60);
  const share = between(0.3, 0.7);
  const seeded = random() < 0.5;
  return `sumpwright: 1
name: ${seed}
tank: { outside: ${length} x ${width} x ${height} cm }
sump: { outside: ${whole(60, 90)} x ${width - 5} x 40 cm, water: 18 cm }
tower: { depth: ${whole(15, 40)} cm }
return: { pump: ${Math.round((litres * between(4, 8)) / 100) * 100} L/h, outlet: 3 cm, hole: none }
water: { temperature: ${whole(21, 28)} °C }
tap: { ph: ${between(7, 8).toFixed(1)}, kh: ${whole(5, 12)} dKH }
seed: ${seeded ? `{ share: ${whole(5, 40)} %, where: everywhere }` : "none"}
${seeded ? "" : "cycle: { dose: 2 mg/L as NH3 }\n"}kit: { ammonia: NH4, nitrite: NO2, nitrate: NO3 }
stock:
  - { name: small, count: ${whole(6, 20)}, mass: 1.5 g, food: ${(food * share).toFixed(3)} g/day }
  - { name: large, count: ${whole(2, 6)}, mass: 12 g, food: ${(food * (1 - share)).toFixed(3)} g/day }
timeline:
  - { at: day 7, every: 7 days, do: water change, share: ${whole(15, 30)} % }
days: ${seeded ? 70 : 110}
`;
}

export const REQUEST: PlanRequest = {
  limits: { no2GPerM3: 0.5 / 3.2845, nh3GPerM3: 0.02, no3GPerM3: 40 / 4.4268 },
  confidence: 0.9,
  slotDays: 7,
};

export interface Tried {
  readonly question: Question;
  readonly plan: StockingPlan;
  /** With other members than those of the plan; null where the plan promises nothing. */
  readonly again: LimitCheck | null;
}

const signal = new AbortController().signal;

/** A plan that promises something, simulated with members that it has not seen, and with meals. */
export async function again(
  question: Question,
  plan: StockingPlan,
  { limits }: PlanRequest,
  members: number,
  pool: MemberPool<CourseSetup>,
): Promise<LimitCheck> {
  const from = plan.lots[0]!.day;
  const days = plan.lots[plan.lots.length - 1]!.day + JUDGED_DAYS;
  const planned = { lots: plan.lots, change: plan.change, days };
  const points = pointsWith(question, members, "other members", { planned, meals: true });
  const courses = await runCourses({ ...question.setup, days, handles: false }, points, { pool, signal });
  return keptBy(question.setup.nitrogen[0]!, courses, limits, from, days);
}

/** The plan of one tank, simulated again. */
export async function planAgain(text: string, pool: Pool, members: number, checked: number, request = REQUEST): Promise<Tried> {
  const loaded = loadScenario(text, "tank.yaml");
  if (!loaded.ok) throw new Error(loaded.errors[0]!.problem);
  const question = questionOf(loaded.scenario, text, false);
  const plan = await stockingPlan(question, request, { pool, signal, seed: "1", members, checked, leastMedia: false });
  return { question, plan, again: plan.promised ? await again(question, plan, request, checked, pool) : null };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [plans = 50, members = 40, checked = 50, first = 1] = process.argv.slice(2).map(Number);
  const pool = threads();
  const shares: number[] = [];
  for (let n = first; n < first + plans; n++) {
    const { plan, again } = await planAgain(tankText(`plan ${n}`), pool, members, checked);
    const lots = plan.lots.map(({ day, count }) => `${count} on day ${day}`).join(", ");
    console.log(
      `${n}: ${again ? `kept in ${(100 * again.share).toFixed(0)} % (in its own check ${(100 * plan.fresh.share).toFixed(0)} %)` : "no promise"}; ${lots || "no animals"}; ${plan.left.reduce((a, b) => a + b, 0)} left; put off ${plan.putOff} times; ${plan.runs} runs`,
    );
    if (again) shares.push(again.share);
  }
  await pool.close();
  const kept = shares.filter((share) => share >= REQUEST.confidence - 1e-9).length;
  console.log(
    `${shares.length} of ${plans} plans promise ${100 * REQUEST.confidence} %; simulated again, ${kept} keep it; on average ${((100 * shares.reduce((a, b) => a + b, 0)) / shares.length).toFixed(1)} %, at least ${(100 * Math.min(...shares)).toFixed(0)} %`,
  );
}
