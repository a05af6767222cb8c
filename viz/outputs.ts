// Writes a set of files, either all of them or none. Obstacles are found before anything is computed.
import {
  type Dirent,
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  realpathSync,
  renameSync,
  rmdirSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { dirname, join, resolve } from "node:path";

export interface OutputFile {
  readonly name: string;
  readonly text: string;
}

/** A place that cannot be written to; the message says why in plain words. */
export class OutputProblem extends Error {}

const REASONS: Readonly<Record<string, string>> = {
  EACCES: "you have no permission to write there",
  EPERM: "you have no permission to write there",
  EROFS: "it cannot be changed: it is read-only",
  ENOSPC: "the disk is full",
  EDQUOT: "your share of the disk is used up",
  EEXIST: "a file of that name is in the way",
  ENOTDIR: "a file is in the way where a folder should be",
  EISDIR: "a folder of that name is in the way",
  ENOTEMPTY: "a folder of that name is in the way",
  ENOENT: "no folder can be made there",
  ENAMETOOLONG: "the name is too long",
  ELOOP: "its links lead in a circle",
  EIO: "the disk reports an error",
};

/** The error of the file system in words. */
export function reasonOf(error: unknown): string {
  const { code } = error as NodeJS.ErrnoException;
  return (code && REASONS[code]) ?? (error instanceof Error ? error.message : String(error));
}

/** Runs a file-system operation. @throws OutputProblem that names the place */
function trying<T>(place: string, step: () => T): T {
  try {
    return step();
  } catch (error) {
    throw new OutputProblem(`${place}: cannot be written: ${reasonOf(error)}`, { cause: error });
  }
}

/** Creates a folder and its parents one at a time, because `mkdir` with `recursive` never returns in some system folders. */
function makeFolder(folder: string): readonly string[] {
  const missing: string[] = [];
  let above = folder;
  while (!existsSync(above) && dirname(above) !== above) {
    missing.unshift(above);
    above = dirname(above);
  }
  const made: string[] = [];
  for (const path of missing) {
    trying(path, () => mkdirSync(path));
    made.unshift(path);
  }
  if (!lstatSync(realpathSync(folder)).isDirectory()) throw new OutputProblem(`${folder}: this is a file, not a folder`);
  return made;
}

const PART = /^\.sumpwright-(\d+)-\d+\.part$/;
const EARLIER = /^(.+)\.sumpwright-(\d+)\.earlier$/;

function runs(processId: number): boolean {
  try {
    process.kill(processId, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}

/** Cleans up after a process that was killed while it wrote, and restores an output that it had moved aside. */
function clearRemains(folder: string): void {
  const names = readdirSync(folder, { withFileTypes: true })
    .filter((entry: Dirent) => entry.isFile())
    .map((entry) => entry.name);
  for (const name of names) {
    const part = PART.exec(name);
    if (part && !runs(Number(part[1]))) rmSync(join(folder, name), { force: true });
    const cachedFaults = EARLIER.exec(name);
    if (!cachedFaults || runs(Number(cachedFaults[2]))) continue;
    if (existsSync(join(folder, cachedFaults[1]!))) rmSync(join(folder, name), { force: true });
    else renameSync(join(folder, name), join(folder, cachedFaults[1]!));
  }
}

/** A name as a case-insensitive file system sees it. */
const folded = (name: string): string => name.normalize("NFC").toLowerCase();

const kindOf = (path: string): "file" | "folder" | "nothing" => {
  const found = lstatSync(path, { throwIfNoEntry: false });
  return !found ? "nothing" : found.isDirectory() ? "folder" : "file";
};

/** The file to which a path leads, with links resolved; the path itself when there is none. */
const fileBehind = (path: string): string => (existsSync(path) ? realpathSync(path) : resolve(path));

export interface OutputPlace {
  /**
   * Writes all files or none: earlier files are restored when one step fails.
   * @param files with the planned names
   * @returns the paths, in order
   * @throws OutputProblem when a file cannot be written
   */
  write(files: readonly OutputFile[]): readonly string[];
  /** Removes the folders that were created in vain. */
  giveUp(): void;
}

/**
 * Checks before the work whether these files can be written. It creates the folder, cleans up after an interrupted run, and
 * looks for names that clash with each other, with a folder, or with an input file.
 * @param names of the files to write
 * @param inputs paths that must not be overwritten
 * @throws OutputProblem when a file could not be written
 */
export function prepareOutputs(folder: string, names: readonly string[], inputs: readonly string[] = []): OutputPlace {
  const seen = new Set<string>();
  for (const name of names) {
    if (seen.has(folded(name))) throw new OutputProblem(`${name}: two results would have this name`);
    seen.add(folded(name));
  }
  const made = makeFolder(resolve(folder));
  const giveUp = (): void => {
    for (const path of made) {
      if (existsSync(path) && readdirSync(path).length === 0) rmdirSync(path);
    }
  };
  const read = new Set(inputs.map((path) => folded(fileBehind(path))));
  try {
    for (const name of names) {
      const path = join(folder, name);
      if (kindOf(path) === "folder") throw new OutputProblem(`${path}: cannot be written: a folder of that name is in the way`);
      if (read.has(folded(fileBehind(path))))
        throw new OutputProblem(
          `${path}: this result would replace the scenario it comes from; write to another folder with --out`,
        );
    }
    trying(folder, () => clearRemains(folder));
    const probe = join(folder, `.sumpwright-${process.pid}-0.part`);
    try {
      trying(folder, () => writeFileSync(probe, ""));
    } finally {
      rmSync(probe, { force: true });
    }
  } catch (error) {
    giveUp();
    throw error;
  }
  return { write: (files) => writeWhole(folder, files), giveUp };
}

/**
 * Writes all files or none.
 * @param folder an existing folder
 * @returns the paths, in order
 * @throws OutputProblem when a file cannot be written; the folder is then unchanged
 */
export function writeWhole(folder: string, files: readonly OutputFile[]): readonly string[] {
  const places = files.map(({ name, text }, i) => ({
    text,
    path: join(folder, name),
    part: join(folder, `.sumpwright-${process.pid}-${i + 1}.part`),
    cachedFaults: join(folder, `${name}.sumpwright-${process.pid}.earlier`),
  }));
  const done: { readonly path: string; readonly cachedFaults: string | null }[] = [];
  try {
    for (const { path, part, text } of places) trying(path, () => writeFileSync(part, text));
    for (const { path, part, cachedFaults } of places) {
      trying(path, () => {
        const replaces = kindOf(path) !== "nothing";
        if (replaces) renameSync(path, cachedFaults);
        done.push({ path, cachedFaults: replaces ? cachedFaults : null });
        renameSync(part, path);
      });
    }
  } catch (error) {
    for (const { path, cachedFaults } of done.reverse()) {
      if (cachedFaults) renameSync(cachedFaults, path);
      else rmSync(path, { force: true });
    }
    throw error;
  } finally {
    for (const { part } of places) rmSync(part, { force: true });
  }
  for (const { cachedFaults } of done) if (cachedFaults) rmSync(cachedFaults, { force: true });
  return places.map(({ path }) => path);
}
