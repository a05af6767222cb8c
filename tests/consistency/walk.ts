// npm run walk -- --count 300 --seed any --from 0 --matrix 0.1 --members 0.1
//
// Reads every sentence, table, mark and calendar line of random scenarios and names what contradicts itself. Every
// failure is kept as a file in tests/consistency/kept, which the tests read again. Ends with 1 when something was found.
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { errorText, loadScenario } from "../../scenarios/load/load.ts";
import { RunFailure, runScenario } from "../../scenarios/run/run.ts";
import { rigOf } from "../fuzz/campaign.ts";
import { drawOf } from "../fuzz/draw.ts";
import { contradictions } from "./contradictions.ts";

/** Random scenarios that once failed, and some others, as files, so that a change of the format does not draw other ones. */
const KEPT = new URL("./kept/", import.meta.url);

/** A random scenario: its text, and the members and faults with which it is run. */
export interface Walk {
  readonly name: string;
  readonly text: string;
  readonly matrix: boolean;
  readonly members: number;
}

const headOf = ({ members, matrix }: Pick<Walk, "members" | "matrix">): string =>
  `# members ${members}, faults ${matrix ? "yes" : "no"}\n`;

export const keptWalks = (): Walk[] =>
  readdirSync(KEPT).map((name) => {
    const text = readFileSync(new URL(name, KEPT), "utf8");
    const [, members, faults] = /^# members (\d+), faults (yes|no)\n/.exec(text)!;
    return { name, text, matrix: faults === "yes", members: Number(members) };
  });

/** Members enough for ranges. */
const MEMBERS = 6;

/** Which random scenario it is, and how much of it is worked out. */
export function walkOf(seed: string, index: number, shares: { readonly matrix: number; readonly members: number }): Walk {
  const draw = drawOf(`${seed}/walk`, index);
  const [matrix, members] = [draw.chance(shares.matrix), draw.chance(shares.members) ? MEMBERS : 0];
  return { name: `${seed}-${index}.yaml`, text: rigOf(seed, index), matrix, members };
}

/** What contradicts itself in one random scenario; null when the scenario is refused. */
export async function walk({ text, matrix, members }: Walk): Promise<readonly string[] | null> {
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
    writeFileSync(new URL(one.name, KEPT), `${headOf(one)}${one.text}`);
  }
  console.log(
    `seed ${given.seed}, ${from} to ${from + count - 1}: ${read} read, ${refused} refused, ${failed} contradict themselves`,
  );
  process.exitCode = failed > 0 ? 1 : 0;
}
