// Input of the command line: reads and checks scenario files and standard input, and reports all their errors at once.
import { closeSync, openSync, readSync } from "node:fs";
import { basename, extname } from "node:path";
import { errorText, type Loaded, loadScenario } from "../scenarios/load/load.ts";
import { visible } from "../scenarios/text/invisible-characters.ts";

/** Bad input. The message is printed unchanged, and the command ends with the exit code for bad input. */
export class BadInput extends Error {}

const LONGEST_FILE = 4_000_000;
/** The file name that means standard input. */
const STANDARD_INPUT = "-";
const STANDARD_INPUT_NAME = "standard input";

/** Name of a file in messages and on the page. */
export const shownName = (file: string): string => (file === STANDARD_INPUT ? STANDARD_INPUT_NAME : visible(file));

export const isStandardInput = (file: string): boolean => file === STANDARD_INPUT;

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: "there is no such file",
  ENOTDIR: "there is no such file",
  EISDIR: "this is a folder",
  EACCES: "you have no permission to read it",
  EPERM: "you have no permission to read it",
  ENAMETOOLONG: "the name is too long",
  ELOOP: "its links lead in a circle",
};

/** All bytes, up to one more than a scenario may have, because pipes and devices have no known size and may be endless. */
function readBounded(descriptor: number): Buffer {
  const chunks: Buffer[] = [];
  for (let length = 0; length <= LONGEST_FILE; ) {
    const chunk = Buffer.alloc(65_536);
    let count: number;
    try {
      count = readSync(descriptor, chunk);
    } catch (error) {
      const { code } = error as NodeJS.ErrnoException;
      if (code === "EOF") break;
      if (code !== "EAGAIN") throw error;
      // A terminal or pipe without data yet.
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 20);
      continue;
    }
    if (count === 0) break;
    chunks.push(chunk.subarray(0, count));
    length += count;
  }
  return Buffer.concat(chunks);
}

function bytesOf(file: string): Buffer {
  let bytes: Buffer;
  try {
    const descriptor = isStandardInput(file) ? 0 : openSync(file, "r");
    try {
      bytes = readBounded(descriptor);
    } finally {
      if (descriptor !== 0) closeSync(descriptor);
    }
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    throw new BadInput(`${shownName(file)}: ${(code && REASONS[code]) ?? message}`);
  }
  if (bytes.length > LONGEST_FILE) throw new BadInput(`${shownName(file)}: far too long for a scenario`);
  return bytes;
}

/** The text of a file. @throws BadInput when it cannot be read or is not UTF-8 */
export function readText(file: string): string {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytesOf(file));
  } catch (error) {
    if (error instanceof BadInput) throw error;
    throw new BadInput(`${shownName(file)}: this is not UTF-8 text`);
  }
}

export interface Checked {
  readonly file: string;
  readonly source: string;
  readonly loaded: Extract<Loaded, { ok: true }>;
}

/**
 * Reads and checks all files.
 * @throws BadInput with every error of every file
 */
export function checkAll(files: readonly string[]): readonly Checked[] {
  const problems: string[] = [];
  const checked: Checked[] = [];
  if (files.filter(isStandardInput).length > 1) throw new BadInput("standard input (-) can be read only once");
  for (const file of files) {
    try {
      const source = readText(file);
      const loaded = loadScenario(source, shownName(file));
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

/** Unique output names, derived from the names of the files. */
export function outputNames(files: readonly string[], taken: readonly string[]): readonly string[] {
  const used = new Set(taken);
  return files.map((file) => {
    const stem = isStandardInput(file) ? "scenario" : basename(file, extname(file));
    let name = stem;
    for (let n = 2; used.has(name.toLowerCase()); n++) name = `${stem}-${n}`;
    used.add(name.toLowerCase());
    return name;
  });
}
