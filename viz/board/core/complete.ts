// Completion: position of the caret in the text of a scenario, and what the format allows there. Works in unfinished text.

import { sections } from "../../../scenarios/fields/insides.ts";
import type { Path } from "../../../scenarios/load/edits.ts";
import { type Described, describe, kindsOf, schemaAt, shapeFor } from "../../../scenarios/schema/describe.ts";

export interface CaretPlace {
  /** Section that contains the caret. */
  readonly path: Path;
  /** The key whose value contains the caret, if any. */
  readonly key: string | null;
  /** Typed part of the word, and its start. */
  readonly typed: string;
  readonly from: number;
}

const KEY = /^([^\s:#{}[\],-][^:#{}[\],]*?)\s*:(?:\s|$)/;

/** Unclosed brackets of a line up to the caret: the path inside the line, and the text since the last separator. */
function inLine(before: string): { path: (string | number)[]; rest: string; restAt: number } {
  const stack: { path: (string | number)[]; index: number }[] = [];
  let path: (string | number)[] = [];
  let start = 0;
  let quote = "";
  for (let i = 0; i < before.length; i++) {
    const c = before[i]!;
    if (quote !== "") {
      if (c === quote) quote = "";
    } else if (c === '"' || (c === "'" && /[\s,[{:]/.test(before[i - 1] ?? " "))) quote = c;
    else if (c === "#" && /\s/.test(before[i - 1] ?? " ")) return { path, rest: "#", restAt: i };
    else if (c === "{" || c === "[") {
      const key = KEY.exec(before.slice(start, i).trimStart())?.[1];
      const parent = stack.at(-1);
      const list =
        c === "[" ? [...path, ...(key ? [key] : []), 0] : [...path, ...(key ? [key] : parent && parent.index >= 0 ? [] : [])];
      stack.push({ path, index: c === "[" ? 0 : -1 });
      path = list;
      start = i + 1;
    } else if ((c === "}" || c === "]") && stack.length > 0) {
      path = stack.pop()!.path;
      start = i + 1;
    } else if (c === ",") start = i + 1;
  }
  return { path, rest: before.slice(start), restAt: start };
}

/** Position in the format of the caret at `offset`. */
export function caretPlace(text: string, offset: number): CaretPlace {
  const lineStart = text.lastIndexOf("\n", offset - 1) + 1;
  const before = text.slice(lineStart, offset);
  const dashes = /^(\s*(?:-\s+)*)/.exec(before)![1]!;
  let indent = dashes.length;
  const outer: (string | number)[] = [];
  const lines = text.slice(0, lineStart).split("\n").slice(0, -1);
  let inList = dashes.includes("-");
  const own = dashes.indexOf("-");
  if (inList) indent = own;
  for (let i = lines.length - 1; i >= 0; i--) {
    const line = lines[i]!;
    if (line.trim() === "" || /^\s*#/.test(line)) continue;
    const lead = /^(\s*)((?:-\s+)*)/.exec(line)!;
    const at = lead[1]!.length;
    const keyAt = at + lead[2]!.length;
    const key = KEY.exec(line.slice(keyAt))?.[1];
    const opens = key !== undefined && /:\s*(?:#.*)?$/.test(line);
    if (!inList && lead[2] !== "" && at < indent && keyAt <= indent) {
      // A key of this entry, or its first key.
      if (keyAt === indent || (opens && keyAt < indent)) {
        if (opens && keyAt < indent) outer.unshift(key!);
        inList = true;
        indent = at;
        continue;
      }
    }
    if (opens && keyAt < indent + (inList ? 1 : 0) && (inList ? at <= indent : at < indent)) {
      if (inList) outer.unshift(key!, 0);
      else outer.unshift(key!);
      inList = lead[2] !== "";
      indent = at;
      if (at === 0) break;
    }
  }
  const { path, rest, restAt } = inLine(before.slice(dashes.length));
  const trimmed = rest.trimStart();
  const key = KEY.exec(`${trimmed} `)?.[1] ?? null;
  const value = key === null ? trimmed : trimmed.slice(trimmed.indexOf(":") + 1).trimStart();
  return {
    path: [...outer, ...path],
    key: rest.startsWith("#") ? "#" : key !== null && trimmed.includes(":") ? key : null,
    typed: value,
    from: lineStart + dashes.length + restAt + (rest.length - value.length),
  };
}

export interface Suggestion {
  readonly text: string;
  readonly detail: string;
  readonly about: string;
}

const shapeAt = (path: Path, data: unknown) => {
  const schema = schemaAt(path, data);
  return schema ? { schema, shape: shapeFor(schema, data) } : null;
};

const detailOf = (d: Described): string =>
  [d.range, d.standsIn === null ? (d.required ? "needed" : "") : `else ${d.standsIn}`].filter((s) => s !== "").join("; ");

/** Suggestions at the caret. */
export function suggestions(place: CaretPlace): readonly Suggestion[] {
  if (place.key === "#") return [];
  const at = shapeAt(place.path, undefined);
  if (!at) return [];
  const shapes = sections(at.schema, true);
  if (place.key === null) {
    const seen = new Map<string, Described>();
    for (const shape of shapes)
      for (const [key, field] of Object.entries(shape)) if (!seen.has(key)) seen.set(key, describe(key, field));
    return [...seen].map(([key, d]) => ({ text: `${key}: `, detail: detailOf(d), about: d.about }));
  }
  const kinds = kindsOf(at.schema);
  if (kinds?.key === place.key) return kinds.words.map((word) => ({ text: word, detail: "", about: "" }));
  const found = shapes.flatMap((shape) => {
    const field = shape[place.key!];
    if (!field) return [];
    const d = describe(place.key!, field);
    return d.forms.flatMap((form): Suggestion[] =>
      form.is === "words"
        ? form.words.map((word) => ({ text: word, detail: "", about: d.about }))
        : form.is === "yes or no"
          ? ["true", "false"].map((word) => ({ text: word, detail: "", about: d.about }))
          : form.is === "quantity" || form.is === "number"
            ? [{ text: form.example, detail: "for example", about: detailOf(d) }]
            : [],
    );
  });
  return found.filter(({ text }, i) => found.findIndex((other) => other.text === text) === i);
}

/** Description of the key under the pointer; null if there is none. */
export function helpAt(text: string, offset: number): Described | null {
  const rest = /^[^:\n#]*/.exec(text.slice(offset))![0];
  const place = caretPlace(text, offset + rest.length);
  const key = place.key ?? place.typed.trim();
  const field = shapeAt(place.path, undefined)?.schema;
  if (!field || key === "") return null;
  for (const shape of sections(field, true)) if (shape[key]) return describe(key, shape[key]);
  return null;
}
