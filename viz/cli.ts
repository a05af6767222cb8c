#!/usr/bin/env node
// The command line: reads files, calls the library, writes files, sets the exit code. Nothing is computed here.
import { readFileSync, statSync } from "node:fs";
import { availableParallelism } from "node:os";
import { basename, extname } from "node:path";
import { Command, CommanderError, InvalidArgumentError, Option } from "commander";
import { scenarioJsonSchema } from "../scenarios/jsonSchema.ts";
import { errorText, type Loaded, loadScenario } from "../scenarios/load.ts";
import type { EnsembleSetup } from "../scenarios/members.ts";
import type { Level, RunResult } from "../scenarios/result.ts";
import { RunFailure, type RunInput, runScenario } from "../scenarios/run.ts";
import { nodePool } from "../sim/node-pool.ts";
import { ensembleWorker, pageScripts } from "./assets.ts";
import { csvFiles } from "./csv.ts";
import { type OutputFile, writeWhole } from "./outputs.ts";
import { renderIndex, renderPage } from "./report.ts";

const EXIT = { fine: 0, findings: 1, badInput: 2, internal: 3 } as const;
const LONGEST_FILE = 4_000_000;
const FORMATS = ["html", "json", "csv"] as const;
type Format = (typeof FORMATS)[number];

/** Told to the user as it is, with the exit code for bad input. */
class BadInput extends Error {}

const say = (text: string): boolean => process.stdout.write(`${text}\n`);
const complain = (text: string): boolean => process.stderr.write(`${text}\n`);

/** The text of a scenario file. */
function read(file: string): string {
  let bytes: Buffer;
  try {
    if (statSync(file).size > LONGEST_FILE) throw new BadInput(`${file}: far too large for a scenario`);
    bytes = readFileSync(file);
  } catch (error) {
    if (error instanceof BadInput) throw error;
    const { code } = error as NodeJS.ErrnoException;
    const why =
      code === "ENOENT"
        ? "there is no such file"
        : code === "EISDIR"
          ? "this is a folder"
          : code === "EACCES"
            ? "it may not be read"
            : String(code);
    throw new BadInput(`${file}: ${why}`);
  }
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    throw new BadInput(`${file}: this is not UTF-8 text`);
  }
}

interface Checked {
  readonly file: string;
  readonly source: string;
  readonly loaded: Extract<Loaded, { ok: true }>;
}

/** All files checked; every error of every file is told before anything is refused. */
function checkAll(files: readonly string[]): readonly Checked[] {
  const problems: string[] = [];
  const checked: Checked[] = [];
  for (const file of files) {
    try {
      const source = read(file);
      const loaded = loadScenario(source, file);
      if (loaded.ok) checked.push({ file, source, loaded });
      else problems.push(...loaded.errors.map(errorText));
    } catch (error) {
      if (!(error instanceof BadInput)) throw error;
      problems.push(error.message);
    }
  }
  if (problems.length > 0) throw new BadInput(problems.join("\n"));
  return checked;
}

/** A line that is rewritten in place on a terminal, and silence in a pipe. */
function progressLine(name: string): (what: string, done: number, of: number) => void {
  if (!process.stderr.isTTY) return () => undefined;
  return (what, done, of) => {
    process.stderr.write(`\r\x1b[K${done < of ? `${name}: ${what}${of > 1 ? ` ${done} of ${of}` : ""}` : ""}`);
  };
}

interface RunOptions {
  readonly out: string;
  readonly seed: string;
  readonly runs: number;
  readonly format: readonly Format[];
  readonly failOn?: Exclude<Level, "info">;
  readonly together?: boolean;
}

/** Output names from file names, made different where two files are called alike. */
function namesOf(files: readonly string[]): readonly string[] {
  const used = new Map<string, number>();
  return files.map((file) => {
    const name = basename(file, extname(file));
    const count = (used.get(name) ?? 0) + 1;
    used.set(name, count);
    return count === 1 ? name : `${name}-${count}`;
  });
}

function outputsOf(
  results: readonly RunResult[],
  names: readonly string[],
  { format, together }: RunOptions,
): readonly OutputFile[] {
  const files: OutputFile[] = [];
  if (format.includes("html")) {
    const { page, worker } = pageScripts();
    const options = { workerScript: worker };
    if (together) files.push({ name: "compared.html", text: renderPage(results, page, options) });
    else {
      for (const [i, result] of results.entries())
        files.push({ name: `${names[i]}.html`, text: renderPage([result], page, options) });
      if (results.length > 1)
        files.push({
          name: "index.html",
          text: renderIndex(results.map((result, i) => ({ href: `${encodeURIComponent(names[i]!)}.html`, result }))),
        });
    }
  }
  for (const [i, result] of results.entries()) {
    if (format.includes("json")) files.push({ name: `${names[i]}.json`, text: `${JSON.stringify(result)}\n` });
    if (format.includes("csv"))
      for (const { suffix, text } of csvFiles(result)) files.push({ name: `${names[i]}.${suffix}.csv`, text });
  }
  return files;
}

async function run(files: readonly string[], options: RunOptions): Promise<number> {
  const inputs: readonly RunInput[] = checkAll(files).map(({ file, source, loaded }) => ({
    ...loaded,
    source,
    file: basename(file),
  }));
  const pool = nodePool<EnsembleSetup>(ensembleWorker(), availableParallelism());
  const results: RunResult[] = [];
  try {
    for (const input of inputs) {
      results.push(
        await runScenario(input, {
          seed: options.seed,
          members: options.runs,
          matrix: true,
          pool,
          onProgress: progressLine(input.scenario.name),
        }),
      );
      if (process.stderr.isTTY) process.stderr.write("\r\x1b[K");
    }
  } finally {
    await pool.close();
  }
  const paths = writeWhole(options.out, outputsOf(results, namesOf(files), options));
  for (const result of results) {
    say(result.name);
    for (const finding of result.findings) say(`  ${finding.word.padEnd(9)} ${finding.text}`);
    for (const warning of result.warnings) say(`  unusual   ${warning}`);
  }
  for (const path of paths) say(path);
  const limits: readonly Level[] = options.failOn === "watch" ? ["watch", "alarm"] : options.failOn === "alarm" ? ["alarm"] : [];
  return results.some((r) => r.findings.some((f) => limits.includes(f.level))) ? EXIT.findings : EXIT.fine;
}

function check(files: readonly string[]): number {
  for (const { file, loaded } of checkAll(files)) {
    say(`${file}: fine, ${loaded.defaults.length} defaults stand in`);
    for (const warning of loaded.warnings) say(`  unusual: ${warning}`);
  }
  return EXIT.fine;
}

const wholeNumber = (text: string): number => {
  if (!/^\d{1,5}$/.test(text)) throw new InvalidArgumentError("a whole number from 0 to 99999 is wanted");
  return Number(text);
};

const formats = (text: string): readonly Format[] =>
  text.split(",").map((word) => {
    const format = FORMATS.find((f) => f === word.trim());
    if (!format) throw new InvalidArgumentError(`one or more of ${FORMATS.join(", ")} is wanted`);
    return format;
  });

function command(finish: (code: number) => void): Command {
  const program = new Command("sumpwright")
    .description("Simulates a wet-dry aquarium filter with its sump: when it copes, and whether its water stays off the floor.")
    .exitOverride()
    .showHelpAfterError("(--help tells more)");
  program
    .command("run")
    .description("run scenarios and write their pages")
    .argument("<file...>", "scenario files (YAML)")
    .option("-o, --out <folder>", "where to write", "out")
    .option("-s, --seed <text>", "seed of all chance: the same seed gives the same bytes", "1")
    .option("-r, --runs <number>", "runs behind the early and late bands; 0 for the likely run only", wholeNumber, 40)
    .option("-f, --format <list>", `any of ${FORMATS.join(",")}`, formats, ["html"])
    .addOption(new Option("--fail-on <level>", "exit with 1 when a finding is at least this bad").choices(["watch", "alarm"]))
    .option("--together", "one page that compares the scenarios on the same axes")
    .action(async (files: string[], options: RunOptions) => finish(await run(files, options)));
  program
    .command("check")
    .description("check scenarios and tell every error at once")
    .argument("<file...>", "scenario files (YAML)")
    .action((files: string[]) => finish(check(files)));
  program
    .command("schema")
    .description("print the JSON Schema of scenario files, for an editor")
    .action(() => {
      say(JSON.stringify(scenarioJsonSchema(), null, 2));
      finish(EXIT.fine);
    });
  return program;
}

/** Runs the command line. @returns the exit code */
async function main(argv: readonly string[]): Promise<number> {
  let code: number = EXIT.fine;
  try {
    await command((c) => {
      code = c;
    }).parseAsync(argv);
    return code;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.fine : EXIT.badInput;
    if (error instanceof BadInput || error instanceof RunFailure) {
      complain(error.message);
      return EXIT.badInput;
    }
    const { code: system, path } = error as NodeJS.ErrnoException;
    if (system && path) {
      complain(`${path}: cannot be written (${system})`);
      return EXIT.badInput;
    }
    complain(`internal error: ${error instanceof Error ? error.message : String(error)}`);
    complain("This is a fault of the program, not of your file. Nothing was written.");
    return EXIT.internal;
  }
}

// A reader that closes the pipe early, such as `head`, is no error.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code === "EPIPE") process.exit(EXIT.fine);
  throw error;
});
process.exitCode = await main(process.argv);
