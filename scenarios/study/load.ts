// Loads and checks the text of a study. It reports every error at once with its place, including those in the files
// that it names.
import { hypercubePoints, randomPoints } from "../../sim/design/hypercube.ts";
import { saltelliPoints } from "../../sim/design/sobol-indices.ts";
import { sobolPoints } from "../../sim/design/sobol-points.ts";
import { type Complaint, complaintsOf } from "../load/schema-errors.ts";
import { type LocatedError, readYaml } from "../load/yaml.ts";
import { nearest } from "../text/suggest.ts";
import { Base, type Change } from "./base.ts";
import { MOST_POINTS, type StudyBundle, type StudyText, studySchema, type VariableText } from "./schema.ts";
import { readTable, type Table } from "./table.ts";
import { fromTable, type Input, listed, type Setting, type Variable, variableOf } from "./variables.ts";

/** The values set at one point. */
export interface Point {
  readonly base: Base;
  readonly changes: readonly Change[];
  /** One number per input of the study. */
  readonly inputs: Float64Array;
}

export interface Study {
  readonly text: StudyText;
  readonly bundle: StudyBundle;
  readonly bases: readonly Base[];
  readonly variables: readonly Variable[];
  /** The variables with more than one value; only these are dimensions of the design. */
  readonly dimensions: readonly Variable[];
  readonly inputs: readonly Input[];
  readonly points: number;
  readonly point: (index: number) => Point;
  readonly warnings: readonly string[];
  /** Adds the place in the study's own text to errors. */
  readonly locate: (complaints: Iterable<Complaint>) => readonly LocatedError[];
}

export type LoadedStudy =
  | { readonly ok: true; readonly study: Study }
  | { readonly ok: false; readonly errors: readonly LocatedError[] };

/** Text of a file that the study names, or why it cannot be read. */
export type ReadFile = (path: string) => string | { readonly problem: string };

const MOST_ROW_ERRORS = 50;

/**
 * Loads a study.
 * @param file name for messages
 * @param read returns the text of scenarios and tables, by the path in the study
 */
export function loadStudy(text: string, file: string, read: ReadFile): LoadedStudy {
  const yaml = readYaml(text, file, "study", "sumpwright study: 1");
  if (!yaml.ok) return yaml;
  const { input, locate } = yaml;
  const parsed = studySchema.safeParse(input);
  if (!parsed.success) return { ok: false, errors: locate(complaintsOf(parsed.error.issues, [], input, studySchema)) };
  const study = parsed.data;
  const complaints: Complaint[] = [];
  const elsewhere: LocatedError[] = [];
  const files: Record<string, string> = {};
  const fetch = (path: string, at: readonly PropertyKey[]): string | null => {
    const found = read(path);
    if (typeof found === "string") {
      files[path] = found;
      return found;
    }
    complaints.push({ path: at, problem: `${path}: ${found.problem}`, at: "value" });
    return null;
  };

  const bases: Base[] = [];
  for (const [i, path] of study.scenario.entries()) {
    const source = fetch(path, study.scenario.length > 1 ? ["scenario", i] : ["scenario"]);
    if (source === null) continue;
    const base = Base.read(source, path);
    if (base instanceof Base) bases.push(base);
    else elsewhere.push(...base);
  }
  const ready = bases.length === study.scenario.length;

  const variables: Variable[] = [];
  if (bases.length > 1 && !study.variables.some(({ file }) => file !== undefined && picksScenario(read, file)))
    variables.push(scenarios(bases));
  for (const [i, variable] of study.variables.entries()) {
    const here = ["variables", i] as const;
    if (variable.file !== undefined) {
      const wrong = (
        ["key", "values", "from", "to", "likely", "mean", "sd", "median", "factor", "spread", "steps"] as const
      ).filter((key) => variable[key] !== undefined);
      for (const key of wrong)
        complaints.push({ path: [...here, key], problem: "a file brings its keys and values itself: leave this out", at: "key" });
      const source = fetch(variable.file, [...here, "file"]);
      if (source === null) continue;
      const table = readTable(source, variable.file, variable.name ?? "row", study.scenario);
      if (!("rows" in table)) elsewhere.push(...table);
      else {
        if (ready) elsewhere.push(...badRows(table, bases));
        variables.push(fromTable(variable.name ?? "row", table));
      }
      continue;
    }
    const made = variableOf(variable);
    if (!("choice" in made)) {
      complaints.push(...made.map((c) => ({ ...c, path: [...here, ...c.path] })));
      continue;
    }
    variables.push(made);
    if (ready) complaints.push(...badValues(variable, made, bases, here));
  }
  complaints.push(...doubled(variables, study));
  const { points, problems } = counted(study, variables);
  complaints.push(...problems);

  const errors = [...locate(complaints), ...elsewhere];
  if (errors.length > 0) return { ok: false, errors };
  return {
    ok: true,
    study: {
      text: study,
      bundle: { file: file.replace(/^.*[/\\]/, ""), text, files },
      bases,
      variables,
      dimensions: varied(variables),
      inputs: variables.flatMap(({ inputs }) => inputs),
      points,
      point: pointsOf(study, variables, points, bases),
      warnings: yaml.warnings,
      locate,
    },
  };
}

const picksScenario = (read: ReadFile, file: string): boolean => {
  const text = read(file);
  return typeof text === "string" && /^\uFEFF?(?:[^\n]*,)?\s*"?scenario"?\s*[,\r\n]/.test(text);
};

/** The first variable of a study with several scenarios. */
const scenarios = (bases: readonly Base[]): Variable =>
  listed(
    "scenario",
    [{ name: "scenario", unit: "", labels: bases.map(({ file }) => file.replace(/^.*\//, "").replace(/\.ya?ml$/, "")) }],
    bases.map((_, scenario) => ({ changes: [], values: [scenario], scenario })),
  );

/** Values that the scenarios refuse when set alone: every entry of a list, both ends of a range. */
function* badValues(
  text: VariableText,
  variable: Variable,
  bases: readonly Base[],
  here: readonly PropertyKey[],
): Generator<Complaint> {
  const tried: readonly (readonly [at: readonly PropertyKey[], setting: Setting])[] = text.values
    ? text.values.map((_, i) => [["values", i], variable.choice(i)] as const)
    : text.mean !== undefined || text.median !== undefined
      ? [[[text.mean !== undefined ? "mean" : "median"], variable.at(0.5)]]
      : [
          [["from"], variable.at(0)],
          [["to"], variable.at(1)],
        ];
  for (const base of bases) {
    const reported = new Set<string>();
    for (const [at, setting] of tried) {
      const changed = base.changed(setting.changes);
      if (!Array.isArray(changed)) continue;
      for (const { steps, problem } of changed) {
        // A wrong key is wrong for every value; an inconsistency may disappear with other variables.
        const key = (text.key ?? []).findIndex((_, k) => setting.changes[k].steps === steps);
        if (key < 0) continue;
        const ofKey = /^there is no key|^(?:.*) (?:is no list|has only|is a list|is ".*") /.test(problem);
        const where = bases.length > 1 ? `${base.file}: ` : "";
        if (ofKey && reported.has(problem)) continue;
        reported.add(problem);
        yield { path: [...here, ...(ofKey ? ["key"] : at)], problem: where + problem, at: "value" };
      }
    }
  }
}

/** Rows of a table that a scenario refuses. */
function* badRows(table: Table, bases: readonly Base[]): Generator<LocatedError> {
  let reported = 0;
  for (const [r, { changes, scenario }] of table.rows.entries()) {
    for (const base of scenario === undefined ? bases : [bases[scenario]]) {
      const changed = base.changed(changes);
      if (!Array.isArray(changed)) continue;
      for (const { steps, problem } of changed) {
        // A row that is only inconsistent is a point that fails, not an error in the file.
        if (!changes.some((change) => change.steps === steps)) continue;
        if (reported++ >= MOST_ROW_ERRORS) return;
        yield table.errorAt(r, steps, problem);
      }
    }
  }
}

function* doubled(variables: readonly Variable[], { variables: texts }: StudyText): Generator<Complaint> {
  const names = variables.flatMap(({ inputs }) => inputs.map(({ name }) => name));
  for (const [i, { name, key }] of texts.entries()) {
    const own = name ?? key?.[0];
    if (own !== undefined && names.indexOf(own) !== names.lastIndexOf(own))
      yield {
        path: ["variables", i, ...(name === undefined ? [] : ["name"])],
        problem: `two variables are called "${own}": give one a name of its own`,
        at: "value",
      };
  }
}

function counted(
  { design, variables: texts }: StudyText,
  variables: readonly Variable[],
): { points: number; problems: readonly Complaint[] } {
  const problems: Complaint[] = [];
  const complain = (path: readonly PropertyKey[], problem: string): void => {
    problems.push({ path: ["design", ...path], problem, at: path.length > 0 ? "key" : "value" });
  };
  const { kind } = design;
  let points = design.points ?? 1;
  if (kind === "every combination") {
    if (design.points !== undefined)
      complain(["points"], "every combination has as many points as there are combinations: leave this out");
    points = 1;
    for (const variable of variables) {
      if (variable.choices === null) {
        const i = texts.findIndex(({ name, key }) => (name ?? key?.[0]) === variable.name);
        problems.push({
          path: ["variables", i],
          problem: "every combination needs steps here: how many values of this range",
          at: "value",
        });
      }
      points *= variable.choices ?? 1;
    }
  } else if (kind === "sobol indices") {
    if (design.points !== undefined) complain(["points"], "sobol indices are counted in groups: write groups");
    if (design.groups === undefined) complain([], "missing: groups, best a power of two such as 256");
    const count = varied(variables).length;
    if (count === 0) complain(["kind"], "sobol indices need something that varies");
    points = (design.groups ?? 1) * (count + 2);
  } else if (design.points === undefined) complain([], "missing: points, how many");
  if (kind !== "sobol indices" && design.groups !== undefined)
    complain(["groups"], `only sobol indices have groups: ${kind} has points`);
  if (points > MOST_POINTS) complain(["kind"], `${points} points are more than the ${MOST_POINTS} a study may have`);
  return { points, problems };
}

function pointsOf(
  { design, seed }: StudyText,
  variables: readonly Variable[],
  points: number,
  bases: readonly Base[],
): Study["point"] {
  const settings = settingsOf(design.kind, seed, variables, points);
  return (index) => {
    if (!(index >= 0 && index < points)) throw new RangeError(`the study has no point ${index}`);
    const chosen = settings(index);
    const scenario = chosen.reduce((found, setting) => setting.scenario ?? found, 0);
    return {
      base: bases[scenario],
      changes: chosen.flatMap(({ changes }) => changes),
      inputs: Float64Array.from(chosen.flatMap(({ values }) => values)),
    };
  };
}

const varied = (variables: readonly Variable[]): readonly Variable[] => variables.filter(({ choices }) => choices !== 1);

function settingsOf(
  kind: StudyText["design"]["kind"],
  seed: string,
  variables: readonly Variable[],
  points: number,
): (index: number) => readonly Setting[] {
  if (kind === "every combination")
    return (index) => {
      let rest = index;
      const chosen: Setting[] = [];
      // The last variable varies fastest.
      for (const variable of variables.toReversed()) {
        const count = variable.choices ?? 1;
        chosen.unshift(variable.choice(rest % count));
        rest = Math.floor(rest / count);
      }
      return chosen;
    };
  const dimensions = varied(variables).length;
  const place = {
    "latin hypercube": () => hypercubePoints(dimensions, points, seed),
    "sobol points": () => sobolPoints(dimensions, seed),
    "sobol indices": () => saltelliPoints(dimensions, seed),
    random: () => randomPoints(dimensions, seed),
  }[kind]();
  return (index) => {
    const u = place(index);
    let d = 0;
    return variables.map((variable) => (variable.choices === 1 ? variable.choice(0) : variable.at(u[d++])));
  };
}

/** ": did you mean ...?", or the list of known names. */
export function orRather(name: string, known: readonly string[]): string {
  const guess = nearest(name, known);
  return guess ? `: did you mean "${guess}"?` : `: there is ${known.join(", ")}`;
}
