// The command `plan`: a scenario with its stock in, a stocking calendar that keeps its limits out.
import { basename } from "node:path";
import { ScenarioFormatter } from "../scenarios/build/scenario-formatter.ts";
import { type StockingPlan, stockingPlan } from "../scenarios/forecast/plan.ts";
import { planEdits, planWords } from "../scenarios/forecast/plan-words.ts";
import { questionOf } from "../scenarios/forecast/question.ts";
import { dataOf, editedText } from "../scenarios/load/edits.ts";
import { massPerN } from "../scenarios/text/nitrogen-basis.ts";
import { withPool } from "./cli-forecast.ts";
import { BadInput, checkAll, isStandardInput, outputNames, shownName } from "./cli-input.ts";
import { EXIT, type Exit, say } from "./cli-terminal.ts";
import { renderPlan } from "./forecast-page.ts";
import { prepareOutputs } from "./outputs.ts";
import { calendarFile } from "./sheets/calendar-file.ts";
import { csvLine } from "./view/csv-line.ts";

export interface PlanOptions {
  readonly out: string;
  readonly seed: string;
  readonly runs: number;
  readonly check: number;
  readonly threads?: number;
  /** mg/L as NO2, mg/L as NH3, mg/L as NO3. */
  readonly nitrite: number;
  readonly ammonia: number;
  readonly nitrate: number;
  /** Percent. */
  readonly confidence: number;
  readonly every: number;
  readonly start?: string;
  readonly quiet?: boolean;
}

/** @returns exit code 1 where no plan keeps the promise; the page says why */
export async function plan(file: string, options: PlanOptions, program: string): Promise<Exit> {
  const [{ source, loaded }] = checkAll([file]);
  const { scenario } = loaded;
  if (scenario.stock.length === 0)
    throw new BadInput(
      `${shownName(file)}: there are no animals to plan for. Write them under stock:, for example stock: { name: tetras, count: 12, mass: 1 g }`,
    );
  if (options.start !== undefined && !(/^\d{4}-\d{2}-\d{2}$/.test(options.start) && Number.isFinite(Date.parse(options.start))))
    throw new BadInput(`--start ${options.start} is no date: write, for example, 2027-01-30`);
  const name = outputNames([file], [])[0];
  const names = {
    page: `${name}.plan.html`,
    table: `${name}.plan.csv`,
    scenario: `${name}.planned.yaml`,
    ...(options.start === undefined ? {} : { calendar: `${name}.plan.ics` }),
  };
  const place = prepareOutputs(options.out, Object.values(names), isStandardInput(file) ? [] : [file]);
  const request = {
    limits: {
      no2GPerM3: options.nitrite / massPerN("NO2"),
      nh3GPerM3: options.ammonia,
      no3GPerM3: options.nitrate / massPerN("NO3"),
    },
    confidence: options.confidence / 100,
    slotDays: options.every,
  };
  let found: StockingPlan | null;
  let question: ReturnType<typeof questionOf>;
  try {
    question = questionOf(scenario, source, false);
    const asked = question;
    found = await withPool(options.threads, (pool, signal) =>
      stockingPlan(asked, request, {
        pool,
        signal,
        seed: options.seed,
        members: options.runs,
        checked: options.check,
        leastMedia: true,
        onProgress: (_, done) => {
          if (!options.quiet && process.stderr.isTTY) process.stderr.write(`\r\x1b[K${scenario.name}: ${done} runs`);
        },
      }),
    );
    if (!options.quiet && process.stderr.isTTY) process.stderr.write("\r\x1b[K");
  } catch (error) {
    place.giveUp();
    throw error;
  }
  if (found === null) {
    place.giveUp();
    return EXIT.stopped;
  }
  const { resolved } = question.coupled;
  const words = planWords(resolved, request, found);
  const result = { name: scenario.name, calendar: words.calendar };
  const paths = place.write([
    {
      name: names.page,
      text: renderPlan({
        name: scenario.name,
        file: isStandardInput(file) ? shownName(file) : basename(file),
        seed: options.seed,
        program: `sumpwright ${program}`,
        request,
        plan: found,
        words,
        nitrite: new ScenarioFormatter(resolved).scale("nitrite"),
        files: Object.values(names).slice(1),
      }),
    },
    {
      name: names.table,
      text: [["day", "what", "how"], ...words.calendar.map(({ day, title, detail }) => [String(day), title, detail])]
        .map(csvLine)
        .join(""),
    },
    { name: names.scenario, text: editedText(source, planEdits(dataOf(source), resolved, found)) },
    ...(options.start !== undefined && names.calendar !== undefined
      ? [{ name: names.calendar, text: calendarFile(result, options.start) }]
      : []),
  ]);
  if (!options.quiet) {
    say(scenario.name);
    for (const text of words.sentences) say(`  ${text}`);
    for (const { day, animals } of words.lots) say(`  day ${String(day).padStart(3)}  ${animals}`);
    for (const path of paths) say(path);
  }
  return words.holds ? EXIT.fine : EXIT.findings;
}
