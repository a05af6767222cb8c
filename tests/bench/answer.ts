// The whole answer to a scenario, and what each part of it costs, in processor time: it depends little on what else the machine does.
//   npx tsx tests/bench/answer.ts FILE    the parts of one scenario, in a fresh process, as JSON
import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { basename } from "node:path";
import { fileURLToPath } from "node:url";
import { errorText, loadScenario } from "../../scenarios/load/load.ts";
import { coupleModels } from "../../scenarios/model/compile.ts";
import { createMember } from "../../scenarios/model/members.ts";
import { Answers } from "../../scenarios/run/answers.ts";
import { memberStream } from "../../sim/ensemble/ensemble.ts";

const ANSWERED = ["first-tank", "client-750"] as const;
const MEMBERS = 40;
const MEASURED_MEMBERS = 10;

const root = fileURLToPath(new URL("../../", import.meta.url));

interface Part {
  readonly part: string;
  readonly cpuMs: number;
}

/** The parts of an answer one after the other in this process, as a run asks for them. */
function partsOf(file: string): readonly Part[] {
  const parts: Part[] = [];
  let before = process.cpuUsage();
  const measured = <T>(part: string, work: () => T, times = 1): T => {
    const result = work();
    const { user, system } = process.cpuUsage(before);
    parts.push({ part, cpuMs: (times * (user + system)) / 1000 });
    before = process.cpuUsage();
    return result;
  };
  const source = readFileSync(file, "utf8");
  const loaded = measured("reading and checking", () => loadScenario(source, file));
  if (!loaded.ok) throw new Error(loaded.errors.map(errorText).join("\n"));
  const coupled = measured("hydraulics", () => coupleModels(loaded.scenario, source));
  const asked: Answers = new Answers(coupled, { matrix: true });
  measured("hydraulics, cut and restart", () => asked.plainOutage());
  measured("settled stock", () => asked.baseCase());
  measured("days", () => asked.run());
  measured("readiness and food", () => [asked.ready(), asked.capacity(), asked.handling()]);
  measured("power cut tried on the water", () => [asked.outageTrial(), asked.clocks(), asked.cutAsked().withAir()]);
  measured("faults alone and in pairs", () => asked.matrix());
  measured("fill levels and remedies", () => [asked.faults(), asked.hydraulics()]);
  measured("runs without an incident", () => asked.effects());
  const { baseCase: ground, proof, questions } = asked;
  const member = createMember({
    nitrogen: [asked.setup()],
    mature: [ground().mature],
    seed: "1",
    members: MEMBERS,
    days: coupled.resolved.management.days,
    proof,
    questions: questions(),
    twins: { every: 0, plans: [] },
  });
  measured(
    `${MEMBERS} runs of the bands`,
    () => {
      for (let i = 0; i < MEASURED_MEMBERS; i++) member(i, memberStream("1", i));
    },
    MEMBERS / MEASURED_MEMBERS,
  );
  return parts;
}

/** Processor time of the built command [ms]; null where there is no POSIX shell. */
function commandMs(file: string): number | null {
  const { status, stdout } = spawnSync(
    "sh",
    ["-c", '"$0" dist/cli.js run "$1" --quiet --out .cache/bench-answer >/dev/null && times', process.execPath, file],
    { cwd: root, encoding: "utf8" },
  );
  // The second line of `times` is that of the children: 0m1.234s 0m0.567s.
  const spent = [...(stdout?.split("\n")[1] ?? "").matchAll(/(\d+)m([\d.]+)s/g)];
  if (status !== 0 || spent.length !== 2) return null;
  return spent.reduce((sum, [, minutes, seconds]) => sum + 60_000 * Number(minutes) + 1000 * Number(seconds), 0);
}

/** Prints the parts of each answer with their shares, and what the built command takes. */
export function printAnswers(): void {
  for (const name of ANSWERED) {
    const file = `scenarios/shipped/${name}.yaml`;
    const child = spawnSync(process.execPath, ["--import", "tsx", fileURLToPath(import.meta.url), file], {
      cwd: root,
      encoding: "utf8",
    });
    if (child.status !== 0) throw new Error(child.stderr);
    const parts = JSON.parse(child.stdout) as readonly Part[];
    const sum = parts.reduce((total, { cpuMs }) => total + cpuMs, 0);
    console.info(`\nThe whole answer to ${name}, processor time`);
    for (const { part, cpuMs } of parts)
      console.info(`  ${part.padEnd(32)}${cpuMs.toFixed(0).padStart(6)} ms${((100 * cpuMs) / sum).toFixed(0).padStart(5)} %`);
    const command = commandMs(file);
    if (command !== null) console.info(`  ${"the built command, all threads".padEnd(32)}${command.toFixed(0).padStart(6)} ms`);
  }
}

if (process.argv[1] && basename(process.argv[1]) === "answer.ts") console.info(JSON.stringify(partsOf(process.argv[2]!)));
