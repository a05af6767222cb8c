// A scenario that a study varies: its plain data, and the scenario that results from changed values.
import { inconsistencies } from "../load/consistency-checks.ts";
import { loadScenario } from "../load/load.ts";
import { complaintsOf } from "../load/schema-errors.ts";
import { type LocatedError, readYaml } from "../load/yaml.ts";
import { type Scenario, scenarioSchema } from "../schema/schema.ts";
import { pathText } from "../schema/walk.ts";
import { nearest } from "../text/suggest.ts";
import { type Path, pathIn, withValue } from "./keys.ts";

/** One value set in a scenario, with its key as the study writes it. */
export interface Change {
  readonly steps: Path;
  readonly value: string | number | boolean;
}

/** A change that cannot be made, and why. */
export interface BadChange {
  readonly steps: Path;
  readonly problem: string;
}

const shape: Readonly<Record<string, { safeParse: (typeof scenarioSchema)["safeParse"] }>> = scenarioSchema.shape as never;

export class Base {
  readonly file: string;
  readonly text: string;
  readonly input: Readonly<Record<string, unknown>>;
  readonly scenario: Scenario;

  private constructor(file: string, text: string, input: object, scenario: Scenario) {
    this.file = file;
    this.text = text;
    this.input = input as Readonly<Record<string, unknown>>;
    this.scenario = scenario;
  }

  static read(text: string, file: string): Base | readonly LocatedError[] {
    const loaded = loadScenario(text, file);
    if (!loaded.ok) return loaded.errors;
    const yaml = readYaml(text, file, "scenario", "sumpwright: 1");
    return yaml.ok ? new Base(file, text, yaml.input, loaded.scenario) : yaml.errors;
  }

  /** The changes with the paths of this scenario's text. @throws Error for a key that the scenario cannot have */
  located(changes: readonly Change[]): readonly { readonly path: Path; readonly value: Change["value"] }[] {
    return changes.map(({ steps, value }) => {
      const path = pathIn(this.input, steps);
      if ("problem" in path) throw new Error(path.problem);
      return { path, value };
    });
  }

  /**
   * The scenario with values changed. Only the changed sections of the file are parsed again.
   * @returns the scenario; otherwise all errors of single keys, or the inconsistencies between keys
   */
  changed(changes: readonly Change[]): Scenario | readonly BadChange[] {
    let input = this.input;
    const bad: BadChange[] = [];
    const touched = new Map<string, Path>();
    for (const { steps, value } of changes) {
      const top = String(steps[0]);
      if (!(top in shape)) {
        const guess = nearest(top, Object.keys(shape));
        bad.push({ steps, problem: `there is no key "${top}" in a scenario${guess ? `: did you mean "${guess}"?` : ""}` });
        continue;
      }
      const path = pathIn(input, steps);
      if ("problem" in path) {
        bad.push({ steps, problem: path.problem });
        continue;
      }
      input = withValue(input, path, value) as typeof input;
      touched.set(top, steps);
    }
    const fresh: Record<string, unknown> = {};
    for (const [top, steps] of touched) {
      const parsed = shape[top].safeParse(input[top]);
      if (parsed.success) fresh[top] = parsed.data;
      else
        for (const { path, problem } of complaintsOf(parsed.error.issues, [top], input)) {
          const own = changes.find((change) => agree(change.steps, path));
          bad.push({
            steps: own?.steps ?? steps,
            problem: own && sameEnd(own.steps, path) ? problem : `${pathText(path)}: ${problem}`,
          });
        }
    }
    if (bad.length > 0) return bad;
    const scenario = { ...this.scenario, ...fresh } as Scenario;
    const [wrong] = inconsistencies(scenario);
    return wrong ? [{ steps: wrong.path as Path, problem: `${pathText(wrong.path)}: ${wrong.problem}` }] : scenario;
  }
}

/** Whether one path is a part of the other; list indices may be missing. */
function agree(steps: Path, path: readonly PropertyKey[]): boolean {
  const [a, b] = [steps, path].map((list) => list.filter((step) => typeof step === "string"));
  return a.every((step, i) => i >= b.length || step === b[i]);
}

const sameEnd = (steps: Path, path: readonly PropertyKey[]): boolean =>
  path.filter((step) => typeof step === "string").length === steps.filter((step) => typeof step === "string").length;
