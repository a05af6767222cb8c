// Writes a set of files whole or not at all: an earlier output is only replaced once all of the new one is on the disk.
import { mkdirSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";

export interface OutputFile {
  readonly name: string;
  readonly text: string;
}

/**
 * @param folder made when missing
 * @returns the paths, in order
 * @throws what the file system says; nothing of the new output is left then
 */
export function writeWhole(folder: string, files: readonly OutputFile[]): readonly string[] {
  mkdirSync(folder, { recursive: true });
  const places = files.map(({ name, text }) => ({
    text,
    path: join(folder, name),
    aside: join(folder, `.${name}.${process.pid}.part`),
  }));
  try {
    for (const { aside, text } of places) writeFileSync(aside, text);
    for (const { aside, path } of places) renameSync(aside, path);
  } finally {
    for (const { aside } of places) rmSync(aside, { force: true });
  }
  return places.map(({ path }) => path);
}
