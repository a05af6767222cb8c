// npm run walk -- --count 300 --seed any --from 0 --matrix 0.1 --members 0.1
//
// Reads every sentence, table, mark and calendar line of random scenarios and names what contradicts itself. Seed and number of every
// failure are kept in tests/data/consistency-seeds.csv, which the tests go through again. Ends with 1 when something was found.
import { appendFileSync, readFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { errorText, loadScenario } from "../../scenarios/load/load.ts";
import { RunFailure, runScenario } from "../../scenarios/run/run.ts";
import { rigOf } from "../fuzz/campaign.ts";
import { drawOf } from "../fuzz/draw.ts";
import { contradictions } from "./contradictions.ts";

const KEPT = new URL("../data/consistency-seeds.csv", import.meta.url);

/** A random scenario that failed once: seed and number of the draw, and the members and faults it was run with. */
export interface Walk {
  readonly seed: string;
  readonly index: number;
  readonly matrix: boolean;
  readonly members: number;
}

/** The failures of earlier walks. */
export const keptWalks = (): Walk[] =>
  readFileSync(KEPT, "utf8")
    .split("\n")
    .slice(1)
    .filter((line) => line !== "")
    .map((line) => {
      const [seed, index, matrix, members] = line.split(",");
      return { seed, index: Number(index), matrix: matrix === "true", members: Number(members) };
    });

/** Members enough for ranges. */
const MEMBERS = 6;

/** Which random scenario it is, and how much of it is worked out. */
export function walkOf(seed: string, index: number, shares: { readonly matrix: number; readonly members: number }): Walk {
  const draw = drawOf(`${seed}/walk`, index);
  return { seed, index, matrix: draw.chance(shares.matrix), members: draw.chance(shares.members) ? MEMBERS : 0 };
}

/** What contradicts itself in one random scenario; null when the scenario is refused. */
export async function walk({ seed, index, matrix, members }: Walk): Promise<readonly string[] | null> {
  const text = rigOf(seed, index);
  const loaded = loadScenario(text, "random.yaml");
  if (!loaded.ok) return null;
  try {
    const result = await runScenario({ ...loaded, source: text, file: "random.yaml" }, { seed: "1", members, matrix });
    return [...contradictions(result)];
  } catch (error) {
    if (error instanceof RunFailure) return null;
    throw error;
  }
}

/** The same for a file. */
export async function walkFile(text: string, matrix: boolean, members: number): Promise<readonly string[]> {
  const loaded = loadScenario(text, "file.yaml");
  if (!loaded.ok) throw new Error(loaded.errors.map(errorText).join("\n"));
  return [...contradictions(await runScenario({ ...loaded, source: text, file: "file.yaml" }, { seed: "1", members, matrix }))];
}

if (process.argv[1] && import.meta.url === new URL(`file://${process.argv[1]}`).href) {
  const { values: given } = parseArgs({
    options: {
      count: { type: "string", default: "300" },
      from: { type: "string", default: "0" },
      seed: { type: "string", default: `${Math.floor(Math.random() * 1e9)}` },
      matrix: { type: "string", default: "0.1" },
      members: { type: "string", default: "0.1" },
    },
  });
  const [from, count] = [Number(given.from), Number(given.count)];
  let [read, refused, failed] = [0, 0, 0];
  for (let index = from; index < from + count; index++) {
    const one = walkOf(given.seed, index, { matrix: Number(given.matrix), members: Number(given.members) });
    const found = await walk(one);
    if (found === null) refused++;
    else read++;
    if (!found?.length) continue;
    failed++;
    console.log(`${given.seed}/${index} (faults ${one.matrix}, members ${one.members})\n  ${found.join("\n  ")}`);
    appendFileSync(KEPT, `${one.seed},${index},${one.matrix},${one.members}\n`);
  }
  console.log(
    `seed ${given.seed}, ${from} to ${from + count - 1}: ${read} read, ${refused} refused, ${failed} contradict themselves`,
  );
  process.exitCode = failed > 0 ? 1 : 0;
}
