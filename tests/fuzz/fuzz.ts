// npm run fuzz -- --count 1000 --seed any --from 0 --limit 30 --matrix 0.1 --members 0.1 --page 0.1 --levels 0 --jobs 2 --out out/fuzz
//
// Runs random scenarios and saves every file that gives neither an answer nor a located error, with its seed and
// number. A rig that takes more processor seconds than the limit counts as hanging. Ends with 1 when any rig was
// broken, impossible or hanging.
import { type ChildProcess, fork } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { rigOf, type Shares, type Verdict } from "./campaign.ts";

const { values: given } = parseArgs({
  options: {
    count: { type: "string", default: "200" },
    from: { type: "string", default: "0" },
    seed: { type: "string", default: `${Math.floor(Math.random() * 1e9)}` },
    limit: { type: "string", default: "30" },
    matrix: { type: "string", default: "0.1" },
    members: { type: "string", default: "0.1" },
    page: { type: "string", default: "0.1" },
    levels: { type: "string", default: "0" },
    jobs: { type: "string", default: "1" },
    out: { type: "string", default: "out/fuzz" },
  },
});
const { seed, out } = given;
const shares: Shares = {
  matrix: Number(given.matrix),
  members: Number(given.members),
  page: Number(given.page),
  levels: Number(given.levels),
};
/** A process without an answer after this multiple of the limit is ended; the factor allows for a busy machine. */
const MOST_WAITING = 10;
const [from, count, limitS] = [Number(given.from), Number(given.count), Number(given.limit)];

type Ending = Verdict["outcome"] | "hangs" | "dies";
const tally = new Map<Ending, number>();
let slowest = { index: -1, seconds: 0 };
let totalS = 0;

function note(ending: Ending, index: number, what: readonly string[], text: string, seconds: number): void {
  tally.set(ending, (tally.get(ending) ?? 0) + 1);
  totalS += seconds;
  if (seconds > slowest.seconds) slowest = { index, seconds };
  if (ending === "fine") return;
  console.log(`${ending} ${seed}/${index} (${seconds.toFixed(1)} s): ${what.slice(0, 3).join(" | ").slice(0, 600)}`);
  if (ending === "invalid") return;
  mkdirSync(out, { recursive: true });
  const comment = what.map((line) => `# ${line.replaceAll("\n", "\n#   ")}`).join("\n");
  writeFileSync(`${out}/${seed}-${index}-${ending}.yaml`, `# ${ending}: seed ${seed}, rig ${index}\n${comment}\n${text}`);
}

let next = from;
async function work(): Promise<void> {
  let child: ChildProcess | null = null;
  while (next < from + count) {
    const index = next++;
    child ??= await started();
    const current: ChildProcess = child;
    const verdict = await new Promise<Verdict | "hangs" | "dies">((resolve) => {
      const timer = setTimeout(() => done("hangs"), 1000 * MOST_WAITING * limitS);
      const onMessage = (message: Verdict) => done(message);
      const onExit = () => done("dies");
      const done = (answer: Verdict | "hangs" | "dies") => {
        clearTimeout(timer);
        current.off("message", onMessage);
        current.off("exit", onExit);
        resolve(answer);
      };
      current.on("message", onMessage);
      current.on("exit", onExit);
      current.send({ seed, index, shares });
    });
    if (typeof verdict === "string") {
      current.kill("SIGKILL");
      child = null;
      note(verdict, index, [], rigOf(seed, index), verdict === "hangs" ? limitS : 0);
    } else note(verdict.seconds > limitS ? "hangs" : verdict.outcome, index, verdict.what, verdict.text, verdict.seconds);
    if ((index - from + 1) % 100 === 0)
      console.log(`... ${index - from + 1} of ${count}: ${JSON.stringify(Object.fromEntries(tally))}`);
  }
  child?.kill();
}

function started(): Promise<ChildProcess> {
  return new Promise((resolve) => {
    const child = fork(new URL("./fuzz-worker.ts", import.meta.url), {
      execArgv: ["--import", "tsx", "--max-old-space-size=1500"],
    });
    child.once("message", () => resolve(child));
  });
}

await Promise.all(Array.from({ length: Number(given.jobs) }, work));
const answered = (tally.get("fine") ?? 0) + (tally.get("refused") ?? 0) + (tally.get("impossible") ?? 0);
console.log(
  `seed ${seed}, rigs ${from} to ${from + count - 1}: ${JSON.stringify(Object.fromEntries(tally))}; ` +
    `${(totalS / Math.max(1, answered)).toFixed(2)} s each, slowest ${slowest.index} with ${slowest.seconds.toFixed(1)} s`,
);
process.exitCode = ["broken", "impossible", "hangs", "dies"].some((ending) => tally.has(ending as Ending)) ? 1 : 0;
