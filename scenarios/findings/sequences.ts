// "Six cuts of 20 s in a row: the water stays in, with 88 mm to spare, and the levels come back." Levels carried over from
// stop to stop.

import type { Transient, Verdict } from "../../models/hydraulics/types.ts";
import { type Rig, returnLines } from "../../models/rig.ts";
import type { HydraulicAnswers, TitledSequence } from "../report/hydraulic-report.ts";
import type { Statement } from "../result/statement.ts";
import { duration, length, type Message, sentence, volume } from "../text/message.ts";

/** Largest deviation of a level that counts as restored [m]. */
const BACK_M = 0.002;

export const sequenceFindings = ({ rig, sequences, stories }: HydraulicAnswers): Statement[] => [
  ...sequences.map((sequence) => sequenceFinding(sequence, stories[0].run.verdict)),
  ...backedPumps(rig),
];

/** The main pump has no name; the others are called "pump 2" unless the file names them. */
const pumpNamed = (name: string): string => (name === "" ? "the return pump" : /^pump\b/i.test(name) ? name : `the pump ${name}`);

/** What a pump on a battery is counted for. */
function backedPumps(rig: Rig): Statement[] {
  const backed = returnLines(rig).filter(({ backupS }) => backupS > 0);
  if (backed.length === 0) return [];
  const [{ name, backupS }] = backed;
  return [
    {
      id: "backed-pump",
      topic: "hydraulics",
      consequence: "none",
      likelihood: "planned",
      word: "NOTE",
      text: sentence`The battery keeps ${pumpNamed(name)} going for ${duration(backupS)}. The levels follow it; oxygen, ammonia and temperature in a power cut are computed as if it stood, which is the cautious side.`,
      value: backupS,
      unit: "s",
    },
  ];
}

function sequenceFinding({ id, stops, circuit, run: { cut, verdict, running } }: TitledSequence, plain: Verdict): Statement {
  const floods = verdict.word === "FLOODS";
  const { forS } = stops[0];
  const begins: Message =
    id === "timer"
      ? sentence`With the pump on its timer, ${duration(stops[1].fromS - stops[0].fromS - forS)} on and ${duration(forS)} off,`
      : circuit !== undefined
        ? sentence`When only the circuit ${circuit} fails, and comes back after ${duration(forS)},`
        : stops.length === 1
          ? sentence`When the power is back after ${duration(forS)}, while the water is still coming down,`
          : sentence`With ${stops.length} cuts in a row, the first of ${duration(forS)}, each from the levels that the one before left,`;
  const comes = floods
    ? sentence` ${volume(verdict.floorM3)} end on the floor.`
    : sentence` all the water stays in, with ${length(verdict.marginM)} to spare.`;
  const off = furthest(running.levelsZ, cut);
  const after: Message =
    off === null
      ? sentence` Afterwards every level is back where it was.`
      : sentence` Afterwards ${off.name} stands ${length(Math.abs(off.byM))} ${off.byM > 0 ? "higher" : "lower"} than before.`;
  const days = id === "timer" ? " The days on this page are computed as if it ran on." : "";
  const air = verdict.warnings.some((warning) => warning.startsWith("the pump draws air"))
    ? " The pump draws air between the stops: it may lose its prime and stay without flow."
    : "";
  return {
    id: `sequence-${id}`,
    topic: "hydraulics",
    consequence: floods ? "loss" : verdict.word === "TIGHT" || air !== "" ? "harm" : "none",
    likelihood: "planned",
    word: verdict.word,
    text: sentence`${begins}${comes}${after}${air}${days}`,
    value: floods ? verdict.floorM3 : verdict.marginM,
    unit: floods ? "m3" : "m",
    ...(floods ? { remedy: cure(id, plain) } : {}),
  };
}

/** What keeps the floor dry: one stop at a time, as far as that holds. */
function cure(id: string, plain: Verdict): Message {
  if (plain.word === "FLOODS")
    return sentence`Cure the plain power cut first: that alone puts ${volume(plain.floorM3)} on the floor.`;
  const change =
    id === "timer"
      ? "run the pump without the timer"
      : id.startsWith("circuit-")
        ? "put all return pumps on one circuit, so that they stop together"
        : "a socket that stays off after a cut until you switch it on, so that the water can settle before the pump starts";
  return sentence`Cheapest cure: ${change}. Then it is a plain power cut, and all the water stays in, with ${length(plain.marginM)} to spare.`;
}

/** The tank or chamber with the largest final deviation of its level; null if all are restored. */
export function furthest(
  before: Readonly<Record<string, number>>,
  { vessels, trace }: Transient,
): { readonly name: string; readonly byM: number } | null {
  const moved = vessels
    .filter(({ kind }) => kind === "display" || kind === "chamber")
    .map(({ id, name }) => ({ name, byM: (trace.levelsZ[id].at(-1) ?? before[id]) - before[id] }))
    .sort((a, b) => Math.abs(b.byM) - Math.abs(a.byM))[0];
  return moved && Math.abs(moved.byM) > BACK_M ? moved : null;
}
