// Random rig number `index` of a campaign, and the parts of the program that it runs through.
import { loadScenario } from "../../scenarios/load/load.ts";
import { drawOf } from "./draw.ts";
import { type Effort, type Judgement, judge } from "./judge.ts";
import { randomScenario } from "./random-scenario.ts";

export interface Verdict extends Judgement {
  readonly index: number;
  readonly text: string;
  /** Processor time [s], because other programs may use the machine at the same time. */
  readonly seconds: number;
}

/**
 * Shares of the rigs that run through more than the days and one outage (all faults and pairs, bands, page), and of
 * those that run through less.
 */
export interface Shares {
  readonly matrix: number;
  readonly members: number;
  readonly page: number;
  /** Share for which only the levels are computed. */
  readonly levels: number;
}

/** The first valid file among the draws for this index. */
export function rigOf(seed: string, index: number): string {
  for (let turn = 0; ; turn++) {
    const { text } = randomScenario(drawOf(`${seed}/${turn}`, index), { mostDays: 10 });
    if (turn === 20 || loadScenario(text, "random.yaml").ok) return text;
  }
}

export function effortOf(seed: string, index: number, shares: Shares): Effort {
  const draw = drawOf(`${seed}/effort`, index);
  return {
    matrix: draw.chance(shares.matrix),
    members: draw.chance(shares.members) ? 3 : 0,
    page: draw.chance(shares.page),
    levelsOnly: draw.chance(shares.levels),
  };
}

export async function verdictOf(seed: string, index: number, shares: Shares): Promise<Verdict> {
  const text = rigOf(seed, index);
  const before = process.cpuUsage();
  const judgement = await judge(text, effortOf(seed, index, shares));
  const used = process.cpuUsage(before);
  return { ...judgement, index, text, seconds: (used.user + used.system) / 1e6 };
}
