// YAML text in, its plain data out with a way to point at places of the text, or every fault of the YAML itself. Never throws for bad input.
import { type Document, isNode, isScalar, LineCounter, parseDocument, visit } from "yaml";
import { pathText } from "../schema/walk.ts";
import { pictured, visible } from "../text/invisible-characters.ts";
import { type Place, placeOf } from "./position.ts";
import type { Complaint } from "./schema-errors.ts";

export interface LocatedError {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  /** `tank.outside`; empty for the file as a whole. */
  readonly path: string;
  readonly problem: string;
  /** The line in question with a caret under the culprit; empty when there is no such line. */
  readonly frame: string;
}

export type YamlRead =
  | {
      readonly ok: true;
      readonly input: object;
      readonly warnings: readonly string[];
      /** Complaints with their places, in the order of the file; very many are cut short. */
      readonly locate: (complaints: Iterable<Complaint>) => readonly LocatedError[];
    }
  | { readonly ok: false; readonly errors: readonly LocatedError[] };

const LONGEST_FILE = 1_000_000;
const MOST_ALIASES = 100;
const MOST_ERRORS = 50;
/** So many complaints are looked up in the text, to find those that come first in it. */
const MOST_PLACED = 500;
/** Words of a message longer than this are cut: they hold what somebody wrote. */
const LONGEST_PROBLEM = 600;
const LONGEST_PATH = 120;
const MOST_YAML_ERRORS = 5;
const WIDEST_FRAME = 120;
const DEEPEST = 60;
const TOO_DEEP = "nested too deeply";

/** `first.yaml:4:9 tank.outside: ...` and the line with its caret. */
export const errorText = (e: LocatedError): string =>
  `${e.file}:${e.line}:${e.column}${e.path ? ` ${e.path}` : ""}: ${e.problem}${e.frame ? `\n${e.frame}` : ""}`;

const short = (text: string, longest: number): string =>
  text.length > longest ? `${text.slice(0, longest / 2)} ... ${text.slice(-longest / 4)}` : text;

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

/** Keys that are not plain words, which YAML allows and the format does not, and keys that stand twice in one map. */
function* oddKeys(document: Document): Generator<{ offset: number; problem: string }> {
  const found: { offset: number; problem: string }[] = [];
  visit(document, {
    Map(_, map) {
      const seen = new Set<string>();
      for (const { key } of map.items) {
        const plain = isScalar(key) && typeof key.value === "string" && key.value !== "__proto__" ? key.value : null;
        const offset = (isNode(key) ? key.range : map.range)?.[0] ?? 0;
        if (plain === null) found.push({ offset, problem: "a key must be plain words" });
        else if (seen.has(plain)) found.push({ offset, problem: "this key is there twice" });
        else seen.add(plain);
      }
    },
  });
  yield* found;
}

/**
 * Reads YAML whose top is a list of keys and values.
 * @param file name used in messages
 * @param what it is, for messages: "scenario"
 * @param firstLine what such a file begins with
 */
export function readYaml(text: string, file: string, what: string, firstLine: string): YamlRead {
  const lines = new LineCounter();
  const fail = (errors: readonly LocatedError[]): YamlRead => ({ ok: false, errors });
  const whole = (problem: string): YamlRead => fail([{ file, line: 1, column: 1, path: "", problem, frame: "" }]);
  const at = (place: Place, path: string, problem: string): LocatedError => ({
    file,
    line: place.line,
    column: place.column,
    path: visible(short(path, LONGEST_PATH)),
    problem: visible(short(problem, LONGEST_PROBLEM)),
    frame: frameOf(text, place),
  });
  const atOffset = (offset: number, problem: string): LocatedError => {
    const { line, col } = lines.linePos(offset);
    return at({ line: Math.max(1, line), column: Math.max(1, col), length: 1 }, "", problem);
  };

  if (text.length > LONGEST_FILE) return whole(`the file is longer than ${LONGEST_FILE / 1e6} million characters`);
  if (text.includes("\0")) return whole("this is not a text file");

  if (tooDeep(text)) return whole(TOO_DEEP);

  let document: Document.Parsed;
  let input: unknown;
  try {
    // The parser looks for a key's double among all keys before it, which takes minutes in a hostile file: see `oddKeys`.
    document = parseDocument(text, {
      lineCounter: lines,
      prettyErrors: false,
      stringKeys: false,
      uniqueKeys: false,
      version: "1.2",
    });
    if (document.errors.length > 0) {
      const problems = new Map(document.errors.map((e) => [plainYamlProblem(e.code, e.message), e.pos[0]]));
      return fail([...problems].slice(0, MOST_YAML_ERRORS).map(([problem, offset]) => atOffset(offset, problem)));
    }
    const odd = [...oddKeys(document)];
    if (odd.length > 0) return fail(odd.slice(0, MOST_ERRORS).map((o) => atOffset(o.offset, o.problem)));
    input = document.toJS({ maxAliasCount: MOST_ALIASES });
  } catch (error) {
    if (error instanceof RangeError) return whole(TOO_DEEP);
    if (error instanceof ReferenceError)
      return whole(/alias count/i.test(error.message) ? "too many aliases" : `an alias points nowhere: ${error.message}`);
    throw error;
  }
  if (input === null || input === undefined) return whole(`the file is empty: the first line must be ${firstLine}`);
  if (typeof input !== "object" || Array.isArray(input))
    return whole(`a ${what} is a list of keys and values, the first being ${firstLine}`);

  const locate = (issues: Iterable<Complaint>): readonly LocatedError[] => {
    const all = [...issues];
    const placed = all.slice(0, MOST_PLACED).map((issue) => ({
      issue,
      place: placeOf(document, lines, text, issue.path, issue.at, issue.part),
    }));
    placed.sort((a, b) => a.place.line - b.place.line || a.place.column - b.place.column);
    const errors = placed.slice(0, MOST_ERRORS).map(({ issue, place }) => at(place, pathText(issue.path), issue.problem));
    const more = all.length - errors.length;
    return more > 0 ? [...errors, { file, line: 1, column: 1, path: "", problem: `and ${more} more`, frame: "" }] : errors;
  };

  const warnings = document.warnings.map((w) => atOffset(w.pos[0], w.message)).map((e) => `line ${e.line}: ${e.problem}`);
  return { ok: true, input, warnings, locate };
}

const YAML_PROBLEMS: Readonly<Record<string, string>> = {
  MULTIPLE_DOCS: "only one scenario in a file",
  TAB_AS_INDENT: "a tab cannot indent: use blanks",
  MULTILINE_IMPLICIT_KEY: "a key must stand on one line with its colon: is the indentation right?",
};

function plainYamlProblem(code: string, message: string): string {
  if (/call stack/i.test(message)) return TOO_DEEP;
  const unclosed = /end with a ([\]}])/.exec(message);
  return unclosed ? `a bracket opened before is not closed here: ${unclosed[1]} is missing` : (YAML_PROBLEMS[code] ?? message);
}

/** Whether brackets are opened inside one another beyond any use; found before the parser has to climb them. */
function tooDeep(text: string): boolean {
  let depth = 0;
  for (const character of text) {
    if (character === "[" || character === "{") depth++;
    else if (character === "]" || character === "}") depth--;
    if (depth > DEEPEST) return true;
  }
  return false;
}
