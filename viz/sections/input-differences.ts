// Differences between the files of compared scenarios, block by block, in the wording of the files.

/** Keys that do not affect the models. */
const NAMES: ReadonlySet<string> = new Set(["name", "question", "notes", "sumpwright", "units"]);

/** Top-level blocks of a scenario file by key, without comments and empty lines. */
export function blocksOf(source: string): ReadonlyMap<string, string> {
  const blocks = new Map<string, string[]>();
  let key = "";
  for (const raw of source.split(/\r?\n/)) {
    const line = raw.replace(/(^|\s)#.*$/, "").trimEnd();
    if (line.trim() === "") continue;
    const start = /^([^\s#-][^:]*):(.*)$/.exec(line);
    if (start) {
      key = start[1]!.trim();
      blocks.set(key, start[2]!.trim() === "" ? [] : [start[2]!.trim()]);
    } else blocks.get(key)?.push(line.trim());
  }
  return new Map([...blocks].map(([name, lines]) => [name, lines.join("\n")]));
}

export interface InputRow {
  readonly key: string;
  /** The block in each file; null where a file does not have it. */
  readonly values: readonly (string | null)[];
}

/** The blocks that differ between files, in the order of the first file that has them. */
export function inputDifferences(sources: readonly string[]): readonly InputRow[] {
  const files = sources.map(blocksOf);
  const keys = [...new Set(files.flatMap((blocks) => [...blocks.keys()]))].filter((key) => !NAMES.has(key));
  return keys
    .map((key) => ({ key, values: files.map((blocks) => blocks.get(key) ?? null) }))
    .filter(({ values }) => new Set(values).size > 1);
}
