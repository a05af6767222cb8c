// Prints every sentence that the shipped scenarios and the broken files produce, for an editor to read.
// Usage: npm run sentences [-- files...]; with files, only their sentences.
import { readdirSync, readFileSync } from "node:fs";
import { errorText, loadScenario } from "../scenarios/load/load.ts";
import type { RunResult, Spoken } from "../scenarios/result/result.ts";
import { RunFailure, runScenario } from "../scenarios/run/run.ts";
import { afterCut, duringCut, oneLine } from "../viz/sheets/card.ts";
import { steps } from "../viz/sheets/commissioning.ts";
import { readerOf } from "../viz/view/reader.ts";

const shipped = new URL("../scenarios/shipped/", import.meta.url);
const broken = new URL("./scenarios/load/broken/", import.meta.url);
const files = (folder: URL): URL[] =>
  readdirSync(folder)
    .filter((name) => name.endsWith(".yaml"))
    .map((name) => new URL(name, folder));

/** Each sentence of a result, with its kind. */
export function* sentencesOf(result: RunResult): Generator<readonly [string, string]> {
  const said = function* (what: string, spoken: Spoken | undefined): Generator<readonly [string, string]> {
    if (spoken) yield [what, spoken.text];
  };
  yield ["question", result.answer.question];
  for (const line of result.answer.sentences) yield* said("answer", line);
  for (const line of result.answer.lead) yield* said(`lead, ${line.job}: ${line.level} ${line.word}`, line);
  for (const finding of result.findings) {
    yield [`${finding.id}: ${finding.level} ${finding.word}`, finding.text];
    if (finding.advice) yield ["   advice", finding.advice];
    yield* said("   remedy", finding.remedy);
  }
  for (const { name, amberH, redH, why } of result.outage) yield [`clock: ${name} ${JSON.stringify([amberH, redH])}`, why];
  for (const { what, verdict } of result.hydraulics.remedies) yield [`remedy: ${verdict}`, what];
  for (const { rule, ok } of result.hydraulics.checks) yield [`rule: ${ok ? "met" : "not met"}`, rule];
  for (const { part, ok, note } of result.hydraulics.fit) yield [`fit: ${part} ${ok}`, note];
  for (const story of result.hydraulics.stories) {
    yield ["story", story.title];
    for (const event of story.events) yield [`   at ${event.s.toFixed(0)} s`, event.label];
  }
  for (const { day, label } of result.nitrogen.marks) yield [`mark: day ${day.toFixed(2)}`, label];
  for (const { meaning, series } of result.nitrogen.bands) yield [`band: ${series}`, meaning];
  for (const { day, title, detail } of result.calendar) yield [`calendar: day ${day} ${title}`, detail];
  for (const { text } of result.sensitivities) yield ["what would change it", text];
  for (const line of result.aftermath.checks) yield ["after the cut", line];
  for (const line of result.aftermath.doNotRestart) yield ["do not restart", line];
  for (const line of result.battery?.words ?? []) yield ["battery", line];
  for (const line of result.warnings) yield ["warning", line];
  for (const { key, value, why } of result.defaults) yield [`assumed: ${key} = ${value}`, why];
  const reader = readerOf(result);
  for (const line of duringCut(result, reader)) yield ["card, during", line];
  for (const line of afterCut(result, reader)) yield ["card, after", line];
  yield ["one line", oneLine(result, reader)];
  for (const step of steps(result, reader)) {
    yield ["sheet", step.do];
    for (const { what, predicted } of step.lines) yield ["   predicted", `${what}: ${predicted}`];
  }
}

async function list(file: URL): Promise<string> {
  const name = file.pathname.split("/").at(-1)!;
  const source = readFileSync(file, "utf8");
  const loaded = loadScenario(source, name);
  if (!loaded.ok) return [`== ${name} ==`, ...loaded.errors.map(errorText)].join("\n");
  try {
    const result = await runScenario({ ...loaded, source, file: name }, { seed: "1", members: 20, matrix: true });
    return [`== ${name}: ${result.name} ==`, ...[...sentencesOf(result)].map(([what, text]) => `${what} | ${text}`)].join("\n");
  } catch (error) {
    if (!(error instanceof RunFailure)) throw error;
    return `== ${name} ==\ncannot be run | ${error.message}`;
  }
}

if (process.argv[1] && import.meta.url === new URL(`file://${process.argv[1]}`).href) {
  const asked = process.argv.slice(2).map((name) => new URL(name, `file://${process.cwd()}/`));
  for (const file of asked.length > 0 ? asked : [...files(shipped), ...files(broken)])
    process.stdout.write(`${await list(file)}\n\n`);
}
