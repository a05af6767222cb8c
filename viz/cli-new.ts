// The command `new`: writes a commented scenario file from answers on the terminal or from options.
import { existsSync, writeFileSync } from "node:fs";
import { basename, extname } from "node:path";
import { createInterface } from "node:readline";
import { loadScenario } from "../scenarios/load/load.ts";
import { visible } from "../scenarios/text/invisible-characters.ts";
import { BadInput } from "./cli-input.ts";
import { EXIT, type Exit, say } from "./cli-terminal.ts";
import { reasonOf } from "./outputs.ts";

/** One line of the new file: the question, the value without an answer, and the key that an answer sets. */
interface Question {
  readonly option: string;
  readonly ask: string;
  readonly usual: string;
  /** The key whose errors are errors in the answer. */
  readonly key: string;
}

export const QUESTIONS = [
  { option: "name", ask: "What do you call it?", usual: "My tank", key: "name" },
  { option: "tank", ask: "Outside of the tank: length x width x height", usual: "100 x 40 x 50 cm", key: "tank.outside" },
  { option: "sump", ask: "Outside of the sump: length x width x height", usual: "60 x 35 x 40 cm", key: "sump.outside" },
  { option: "sump-water", ask: "Water in the sump's last chamber while the pump runs", usual: "18 cm", key: "sump.water" },
  { option: "pump", ask: "Flow on the label of the return pump", usual: "2000 L/h", key: "return.pump" },
  { option: "outlet", ask: "How deep does the return pipe end under water?", usual: "3 cm", key: "return.outlet" },
  { option: "food", ask: "Food a day once all animals are in", usual: "2 g/day", key: "food" },
  { option: "temperature", ask: "Temperature of the water", usual: "25 °C", key: "water.temperature" },
  { option: "tap-ph", ask: "pH of your tap water", usual: "7.6", key: "tap.ph" },
  { option: "tap-kh", ask: "Alkalinity of your tap water", usual: "6 dKH", key: "tap.kh" },
  {
    option: "ammonia-kit",
    ask: "Your ammonia kit prints NH3, NH4, TAN, NH3-N, NH4-N, or unknown",
    usual: "unknown",
    key: "kit.ammonia",
  },
  { option: "seed", ask: "Bacteria to begin with: none, bottle, gravel or mature", usual: "none", key: "seed" },
] as const satisfies readonly Question[];

type Option = (typeof QUESTIONS)[number]["option"];
type Answers = Readonly<Record<Option, string>>;

/** Text quoted so that YAML reads it as a plain string. */
const word = (text: string): string => JSON.stringify(text);

const file = (
  a: Answers,
): string => `# A scenario of Sumpwright. Lines that begin with # are remarks; take the # away to use a line.
# All keys, each with an example: sumpwright keys
sumpwright: 1
name: ${word(a.name)}
question: When may the fish go in, and does the sump hold when the power goes?

tank:
  outside: ${a.tank} # length x width x height
  # water line: 4 cm # running water surface below the rim
  # overflow: { kind: hang-on } # drilled when left out
sump:
  outside: ${a.sump}
  water: ${a["sump-water"]} # in the last chamber, with the pump running
return:
  pump: ${a.pump} # as on its label
  outlet: ${a.outlet} # depth of the end of the pipe under water
  hole: none # a siphon-break hole: { bore: 4 mm, depth: 15 mm }

# tower: { depth: 30 cm, media: { kind: hollow plastic ball 40 mm } } # a usual tower when left out

food: ${a.food} # a day, once all animals are in
water: { temperature: ${a.temperature} }
tap: { ph: ${a["tap-ph"]}, kh: ${a["tap-kh"]} }
kit: { ammonia: ${a["ammonia-kit"]} } # what the leaflet of the test kit prints; also nitrite and nitrate
seed: ${a.seed} # bacteria to begin with: none, bottle, gravel or mature
days: 60

# Without animals the program runs the tank in with ammonia from a bottle. With animals:
# stock:
#   - { name: tetras, count: 10, mass: 2 g, arrives: day 40 }
# What is done and what happens:
# timeline:
#   - { at: day 42, every: 7 days, do: water change, share: 25 % }
#   - { at: day 45 20:00, do: power cut, for: 6 h }
`;

/** The error in one answer, in words; null when there is none. */
function problemWith(answers: Answers, { key }: Question): string | null {
  const loaded = loadScenario(file(answers), "new");
  if (loaded.ok) return null;
  return loaded.errors.find((error) => error.path === key || error.path.startsWith(`${key}.`))?.problem ?? null;
}

async function asked(answers: Answers, questions: readonly (typeof QUESTIONS)[number][]): Promise<Answers> {
  const terminal = createInterface({ input: process.stdin });
  // The iterator keeps lines that arrive before their question, as when several are pasted.
  const lines = terminal[Symbol.asyncIterator]();
  let now = answers;
  try {
    for (const question of questions) {
      for (;;) {
        process.stderr.write(`${question.ask} [${now[question.option]}] `);
        const line = await lines.next();
        if (line.done) throw new BadInput("\nstopped before the last question: nothing was written");
        const answer = line.value.trim() || now[question.option];
        const next = { ...now, [question.option]: answer };
        const problem = problemWith(next, question);
        if (problem === null) {
          now = next;
          break;
        }
        process.stderr.write(`  ${problem}\n`);
      }
    }
  } finally {
    terminal.close();
  }
  return now;
}

/**
 * Writes a new scenario file; it never overwrites an existing one.
 * @param options answers given on the command line, by option name in camel case
 * @returns the exit code
 * @throws BadInput when the file exists, cannot be written, or an answer is invalid
 */
export async function newScenario(path: string, options: Readonly<Record<string, string | boolean | undefined>>): Promise<Exit> {
  if (existsSync(path)) throw new BadInput(`${visible(path)}: there is a file of this name: give another name`);
  const inCamelCase = (option: string): string => option.replace(/-(.)/g, (_, letter: string) => letter.toUpperCase());
  const given = (question: Question): string | undefined => {
    const value = options[inCamelCase(question.option)];
    return typeof value === "string" ? value : undefined;
  };
  const stem = basename(path, extname(path)).replaceAll("-", " ");
  const start = Object.fromEntries(
    QUESTIONS.map((question) => [question.option, given(question) ?? (question.option === "name" ? stem : question.usual)]),
  ) as Answers;
  const open = QUESTIONS.filter((question) => given(question) === undefined);
  const answers =
    process.stdin.isTTY && open.length === QUESTIONS.length && options.yes !== true ? await asked(start, open) : start;
  const text = file(answers);
  const loaded = loadScenario(text, path);
  if (!loaded.ok)
    throw new BadInput(
      loaded.errors
        .map(({ path: key, problem }) => {
          const question = QUESTIONS.find((q) => key === q.key || key.startsWith(`${q.key}.`));
          return question ? `--${question.option}: ${problem}` : `${key}: ${problem}`;
        })
        .join("\n"),
    );
  try {
    writeFileSync(path, text, { flag: "wx" });
  } catch (error) {
    throw new BadInput(`${visible(path)}: cannot be written: ${reasonOf(error)}`);
  }
  say(`${visible(path)} is written. Run it with: sumpwright run ${visible(path)}`);
  return EXIT.fine;
}
