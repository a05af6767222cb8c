// The list of all keys of a scenario file, as terminal text and as Markdown.
import { type KeyEntry, keysOf } from "../scenarios/schema/reference.ts";
import { scenarioSchema } from "../scenarios/schema/schema.ts";
import { nearest } from "../scenarios/text/suggest.ts";

const sentence = (text: string): string => {
  const first = text.startsWith("pH") ? text : `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
  return /[.?!]$/.test(first) ? first : `${first}.`;
};

const allKeys = (): readonly KeyEntry[] => [...keysOf(scenarioSchema)];

function described({ path, about, takes, required, leftOut, example }: KeyEntry): string {
  const lines = [
    `  ${sentence(about)}`,
    `  Takes: ${takes}.`,
    ...(required ? ["  Required."] : leftOut === null ? [] : [`  When left out: ${leftOut}.`]),
    `  Example: ${example}`,
  ];
  return `${path}\n${lines.join("\n")}\n`;
}

/** Whether an entry matches: the key itself and all keys below it, or an event by its name. */
const belongs = (path: string, asked: string): boolean =>
  path === asked || path.startsWith(`${asked}.`) || path.startsWith(`${asked}:`) || path.split(": ")[1]?.split(".")[0] === asked;

/**
 * The keys as text.
 * @param asked a path or part of one, such as `tank.overflow` or `water change`; all keys when absent
 * @returns the text; otherwise the nearest key as `guess`, or null when none is near
 */
export function keysText(asked: string | undefined): { readonly text: string } | { readonly guess: string | null } {
  const entries = allKeys();
  if (asked === undefined) return { text: entries.map(described).join("\n") };
  const found = entries.filter(({ path }) => belongs(path, asked));
  // Otherwise look for the key by its own name at any place.
  const named = found.length > 0 ? found : entries.filter(({ key }) => key === asked);
  if (named.length > 0) return { text: named.map(described).join("\n") };
  return { guess: nearest(asked, [...entries.map(({ path }) => path), ...entries.map(({ key }) => key)]) };
}

const cell = (text: string): string => text.replaceAll("|", "\\|");

/** The keys as a Markdown document, with one table per top-level key. */
export function keysMarkdown(): string {
  const tables: string[] = [];
  for (const entry of allKeys()) {
    const root = entry.path.split(/[.:]/)[0]!;
    if (entry.depth === 0 && !entry.path.includes(":"))
      tables.push(
        `\n## ${root}\n\n${sentence(entry.about)}\n\n\`${entry.example}\`\n\n| key | what it is | takes | when left out | example |\n|---|---|---|---|---|`,
      );
    const out = entry.required ? "required" : (entry.leftOut ?? "");
    tables.push(
      `| \`${entry.path}\` | ${[sentence(entry.about), entry.takes, out].map(cell).join(" | ")} | \`${cell(entry.example)}\` |`,
    );
  }
  return `# Keys of a scenario file

Quantities carry their unit, metric or US: \`75 US gal\`, \`3/4 in\`, \`600 US gph\`, \`78 °F\`, \`10 mm\`, \`8 dKH\`. Where a list may stand,
a single section may stand without brackets. This list is made from the format itself: \`sumpwright keys\` prints it, and
\`sumpwright keys tank.overflow\` a part of it.
${tables.join("\n")}
`;
}
