// Parses YAML text into plain data and locates places in the text. It reports all YAML errors at once and never throws
// for bad input.
import { type Document, isCollection, isNode, isScalar, LineCounter, parseDocument, visit, type YAMLMap } from "yaml";
import { pathText } from "../schema/walk.ts";
import { pictured, visible } from "../text/invisible-characters.ts";
import { type Place, placeFinder } from "./position.ts";
import type { Complaint } from "./schema-errors.ts";

export interface LocatedError {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  /** Key path such as `tank.outside`; empty for the file as a whole. */
  readonly path: string;
  readonly problem: string;
  /** The line with a caret under the error; empty when there is no such line. */
  readonly frame: string;
}

export type YamlRead =
  | {
      readonly ok: true;
      readonly input: object;
      readonly warnings: readonly string[];
      /** Whether the file itself has errors, which `locate` lists before all others. */
      readonly odd: boolean;
      /** The errors with their places, in the order of the file; a very long list is cut short. */
      readonly locate: (complaints: Iterable<Complaint>) => readonly LocatedError[];
    }
  | { readonly ok: false; readonly errors: readonly LocatedError[] };

const LONGEST_FILE = 1_000_000;
const MOST_ALIASES = 100;
const MOST_ERRORS = 50;
const MOST_YAML_ERRORS = 5;
const WIDEST_FRAME = 120;
const DEEPEST = 60;
const TOO_DEEP = "brackets or sections are nested too deeply";

const LONGEST_PATH = 120;

/** One error as text: `first.yaml:4:9 tank.outside: ...` and the line with its caret. */
export const errorText = (e: LocatedError): string =>
  `${e.file}:${e.line}:${e.column}${e.path ? ` ${e.path}` : ""}: ${e.problem}${e.frame ? `\n${e.frame}` : ""}`;

function frameOf(text: string, { line, column, length }: Place): string {
  const source = (text.split("\n", line)[line - 1] ?? "")
    .replace(/^\uFEFF/, " ")
    .replace(/\r$/, "")
    .replaceAll("\t", " ");
  if (source === "") return "";
  const from = column > WIDEST_FRAME - 20 ? column - 40 : 0;
  const shown = pictured(source.slice(from, from + WIDEST_FRAME));
  const gutter = String(line).padStart(5);
  const caret = "^".repeat(Math.max(1, Math.min(length, shown.length - (column - 1 - from))));
  return `${gutter} | ${shown}\n${" ".repeat(5)} | ${" ".repeat(column - 1 - from)}${caret}`;
}

interface Found {
  readonly offset: number;
  readonly length: number;
  readonly problem: string;
}

const textOf = (node: unknown): string | null => (isScalar(node) ? (node.source ?? String(node.value)) : null);

/**
 * Joins what a decimal comma inside { } has split: YAML reads `{ width: 20,5 cm }` as a width of 20 and a key "5 cm".
 * The value becomes "20,5 cm" again, and the parser of quantities reports the comma.
 */
function joinCommas(map: YAMLMap): void {
  if (!map.flow) return;
  for (let i = map.items.length - 1; i > 0; i--) {
    const { key, value } = map.items[i]!;
    const { value: before } = map.items[i - 1]!;
    const [whole, tenths] = [textOf(before), textOf(key)];
    const empty = value === null || (isScalar(value) && value.value === null);
    if (!empty || !whole || !tenths || !/\d$/.test(whole) || !/^\d/.test(tenths)) continue;
    if (!isScalar(before) || !isScalar(key) || !before.range || !key.range) continue;
    before.value = `${whole},${tenths}`;
    before.range = [before.range[0], key.range[1], key.range[2]];
    map.items.splice(i, 1);
  }
}

/**
 * Removes keys that are not plain words, which YAML allows and the format does not, and duplicate keys, so that the
 * rest can be checked.
 */
function takeOddKeys(document: Document): readonly Found[] {
  const found: Found[] = [];
  visit(document, {
    Map(_, map) {
      joinCommas(map);
      const seen = new Set<string>();
      map.items = map.items.filter(({ key }) => {
        const name = isScalar(key) && typeof key.value === "string" && key.value !== "__proto__" ? key.value : null;
        if (name !== null && !seen.has(name)) return seen.add(name);
        const range = (isNode(key) ? key.range : map.range) ?? [0, 1, 1];
        const problem = YAML_PROBLEMS[name === null ? "NON_STRING_KEY" : "DUPLICATE_KEY"]!;
        found.push({ offset: range[0], length: range[1] - range[0], problem });
        return false;
      });
    },
  });
  return found;
}

/** Aliases, such as *pump, without a preceding anchor &pump. */
function lostAliases(document: Document): readonly Found[] {
  const found: Found[] = [];
  visit(document, {
    Alias(_, alias) {
      if (alias.resolve(document)) return;
      const range = alias.range ?? [0, 1, 1];
      found.push({
        offset: range[0],
        length: range[1] - range[0],
        problem: `there is no &${alias.source} above this *${alias.source}`,
      });
    },
  });
  return found;
}

/**
 * Parses YAML whose top level is a map.
 * @param file name for messages
 * @param what kind of file, for messages: "scenario"
 * @param firstLine the first line that such a file must have
 */
export function readYaml(text: string, file: string, what: string, firstLine: string): YamlRead {
  const lines = new LineCounter();
  const fail = (errors: readonly LocatedError[]): YamlRead => ({ ok: false, errors });
  const whole = (problem: string): YamlRead => fail([{ file, line: 1, column: 1, path: "", problem, frame: "" }]);
  const at = (place: Place, path: string, problem: string): LocatedError => ({
    file,
    line: place.line,
    column: place.column,
    path: visible(path.length > LONGEST_PATH ? `${path.slice(0, LONGEST_PATH)}…` : path),
    problem: visible(problem),
    frame: frameOf(text, place),
  });
  const atOffset = (offset: number, problem: string, length = 1): LocatedError => {
    const { line, col } = lines.linePos(offset);
    return at({ line: Math.max(1, line), column: Math.max(1, col), length: Math.max(1, length) }, "", problem);
  };

  if (text.length > LONGEST_FILE) return whole(`the file is longer than ${LONGEST_FILE / 1e6} million characters`);
  if (text.includes("\0")) return whole("this is not a text file");

  if (tooDeep(text)) return whole(TOO_DEEP);

  let document: Document.Parsed;
  let input: unknown;
  let odd: readonly Found[];
  try {
    document = parseDocument(text, {
      lineCounter: lines,
      prettyErrors: false,
      stringKeys: false,
      // The library's own check takes time proportional to the square of the number of keys.
      uniqueKeys: false,
      version: "1.2",
    });
    if (document.errors.length > 0) return fail(yamlErrors(document).map((e) => atOffset(e.offset, e.problem)));
    const lost = lostAliases(document);
    if (lost.length > 0) return fail(lost.slice(0, MOST_ERRORS).map((o) => atOffset(o.offset, o.problem, o.length)));
    odd = takeOddKeys(document);
    input = document.toJS({ maxAliasCount: MOST_ALIASES });
  } catch (error) {
    if (error instanceof RangeError) return whole(TOO_DEEP);
    // What remains of the library's refusals: aliases of aliases that would exhaust memory.
    if (error instanceof ReferenceError) return whole("too many aliases");
    throw error;
  }
  if (input === null || input === undefined) return whole(`the file is empty: the first line must be ${firstLine}`);
  if (typeof input !== "object" || Array.isArray(input))
    return whole(`write a ${what} as keys and values, beginning with ${firstLine}`);

  /** A very long list of errors is cut short before any text is made. */
  const locate = (complaints: Iterable<Complaint>): readonly LocatedError[] => {
    const find = placeFinder(document, lines, text);
    const placed = [
      ...odd.map((o) => {
        const { line, col } = lines.linePos(o.offset);
        return { line, column: col, error: () => atOffset(o.offset, o.problem, o.length) };
      }),
      ...[...complaints].map((complaint) => {
        const place = find(complaint.path, complaint.at, complaint.part);
        return { line: place.line, column: place.column, error: () => at(place, pathText(complaint.path), complaint.problem) };
      }),
    ];
    placed.sort((a, b) => a.line - b.line || a.column - b.column);
    const errors = placed.slice(0, MOST_ERRORS).map(({ error }) => error());
    const more = placed.length - MOST_ERRORS;
    return more > 0 ? [...errors, { file, line: 1, column: 1, path: "", problem: `and ${more} more`, frame: "" }] : errors;
  };

  if (odd.length > 0 && Object.keys(input).length === 0) return fail(locate([]));
  const warnings = document.warnings.map(
    (w) => `line ${lines.linePos(w.pos[0]).line}: ${visible(plainYamlProblem(w.code, w.message))}`,
  );
  return { ok: true, input, warnings, locate, odd: odd.length > 0 };
}

/** The library's error codes in plain words. */
const YAML_PROBLEMS: Readonly<Record<string, string>> = {
  ALIAS_PROPS: "an alias such as *pump stands alone: put no & or ! before it",
  BAD_ALIAS: "put quotes round text that begins with * or &",
  BAD_COLLECTION_TYPE: "this ! does not fit what follows: take it out",
  BAD_DIRECTIVE: "lines that begin with % have no use here: take it out, or put the text in quotes",
  BAD_DQ_ESCAPE: 'inside " " a \\ begins a special sign: write \\\\, or use single quotes',
  BAD_INDENT: "the indentation is wrong: keys of one section begin in the same column, further in than the line above them",
  BAD_PROP_ORDER: "& and ! belong before the value",
  BAD_SCALAR_START: "text cannot begin with this sign: put quotes round it",
  BLOCK_AS_IMPLICIT_KEY: "there are two colons in one line: put the text in quotes, or what follows on a line of its own",
  BLOCK_IN_FLOW: "inside { } or [ ] write all in the same way, with commas",
  DUPLICATE_KEY: "this key is there twice",
  IMPOSSIBLE: "this is not YAML",
  KEY_OVER_1024_CHARS: "this key is far too long",
  MISSING_CHAR: "a sign is missing here: a colon, a comma, a quote or a blank after it",
  MULTILINE_IMPLICIT_KEY: "a key and its colon must be on one line: is the indentation right?",
  MULTIPLE_ANCHORS: "there can be only one & here",
  MULTIPLE_DOCS: "a file holds one document: take out --- and what follows",
  MULTIPLE_TAGS: "there can be only one ! here",
  NON_STRING_KEY: "a key must be plain words",
  RESOURCE_EXHAUSTION: "too many aliases",
  TAB_AS_INDENT: "use blanks to indent, not tabs",
  TAG_RESOLVE_FAILED: "words that begin with ! have no use here: take them out, or put the text in quotes",
  UNEXPECTED_TOKEN: "this does not belong here: is a quote, a comma, a colon or an indentation wrong?",
};

/** Offset of the innermost quote or bracket that is still open at an offset; the offset itself when there is none. */
function openingBefore(document: Document, offset: number): number {
  let opening = -1;
  visit(document, {
    Node(_, node) {
      const opens = isScalar(node) ? /^QUOTE/.test(node.type ?? "") : isCollection(node) && node.flow === true;
      const range = node.range;
      if (opens && range && range[0] < offset && range[1] >= offset) opening = Math.max(opening, range[0]);
    },
  });
  return opening < 0 ? offset : opening;
}

/** The first few YAML errors, one per place. */
function yamlErrors(document: Document.Parsed): readonly Pick<Found, "offset" | "problem">[] {
  const found = new Map<number, string>();
  // Where two errors share a place, the indentation is the cause and the colon the effect.
  const errors = [...document.errors].sort(
    (a, b) => Number(a.code !== "MULTILINE_IMPLICIT_KEY") - Number(b.code !== "MULTILINE_IMPLICIT_KEY"),
  );
  for (const { code, message, pos } of errors) {
    const offset = /closing|end with a/.test(message) ? openingBefore(document, pos[0]) : pos[0];
    if (!found.has(offset)) found.set(offset, plainYamlProblem(code, message));
  }
  return [...found]
    .map(([offset, problem]) => ({ offset, problem }))
    .sort((a, b) => a.offset - b.offset)
    .slice(0, MOST_YAML_ERRORS);
}

function plainYamlProblem(code: string, message: string): string {
  if (/call stack/i.test(message)) return TOO_DEEP;
  const unclosed = /end with a ([\]}])/.exec(message);
  if (unclosed) return `this bracket is not closed: ${unclosed[1]} is missing`;
  const missing = /^Missing (closing .*quote|, or |, between)/i.exec(message);
  if (missing) return /quote/.test(missing[1]!) ? "this quote is not closed" : "a comma is missing here";
  return YAML_PROBLEMS[code] ?? YAML_PROBLEMS.IMPOSSIBLE!;
}

/** Whether brackets are nested too deeply; checked before the parser recurses into them. */
function tooDeep(text: string): boolean {
  let depth = 0;
  for (const character of text) {
    if (character === "[" || character === "{") depth++;
    else if (character === "]" || character === "}") depth--;
    if (depth > DEEPEST) return true;
  }
  return false;
}
