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

/** Entries of a block on lines of their own: those of { a: 1, b: 2 } are parted at their commas, but not those within them. */
function entriesOf(block: string): readonly string[] {
  const inner = /^\{(.*)\}$/s.exec(block)?.[1];
  if (inner === undefined) return block.split("\n");
  const entries: string[] = [];
  let depth = 0;
  let from = 0;
  for (let i = 0; i < inner.length; i++) {
    const letter = inner[i]!;
    if (letter === '"' || letter === "'") i = Math.max(i, inner.indexOf(letter, i + 1));
    else if ("{[".includes(letter)) depth++;
    else if ("}]".includes(letter)) depth--;
    else if (letter === "," && depth === 0) {
      entries.push(inner.slice(from, i).trim());
      from = i + 1;
    }
  }
  return [...entries, inner.slice(from).trim()].filter((entry) => entry !== "");
}

export interface InputRow {
  readonly key: string;
  /** What the block says in each file and not in all of them, an entry a line; null where a file does not have it. */
  readonly values: readonly (string | null)[];
}

/** The blocks that differ between files, in the order of the first file that has them. */
export function inputDifferences(sources: readonly string[]): readonly InputRow[] {
  const files = sources.map(blocksOf);
  const keys = [...new Set(files.flatMap((blocks) => [...blocks.keys()]))].filter((key) => !NAMES.has(key));
  return keys.flatMap((key) => {
    const blocks = files.map((file) => file.get(key) ?? null);
    if (new Set(blocks).size === 1) return [];
    const entries = blocks.map((block) => (block === null ? null : entriesOf(block)));
    const inAll = (entry: string): boolean => entries.every((list) => list?.includes(entry));
    const values = entries.map((list) => list?.filter((entry) => !inAll(entry)).join("\n") ?? null);
    return new Set(values).size > 1 ? [{ key, values }] : [];
  });
}
