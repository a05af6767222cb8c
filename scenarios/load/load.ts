// Scenario text in, checked scenario out, or every error at once with its line, column and a caret. Never throws for bad input.

import { type Scenario, scenarioSchema } from "../schema/schema.ts";
import { type DefaultUsed, walk } from "../schema/walk.ts";
import { visible } from "../text/invisible-characters.ts";
import { misfits } from "./consistency-checks.ts";
import { fitMisfits } from "./fit-checks.ts";
import { complaintsOf } from "./schema-errors.ts";
import { type LocatedError, readYaml } from "./yaml.ts";

export { errorText } from "./yaml.ts";
export type ScenarioError = LocatedError;

export type Loaded =
  | {
      readonly ok: true;
      readonly scenario: Scenario;
      readonly defaults: readonly DefaultUsed[];
      readonly warnings: readonly string[];
    }
  | { readonly ok: false; readonly errors: readonly ScenarioError[] };

/**
 * Reads a scenario.
 * @param text YAML
 * @param file name used in messages
 */
export function loadScenario(text: string, file: string): Loaded {
  const read = readYaml(text, file, "scenario", "sumpwright: 1");
  if (!read.ok) return read;
  const { input, locate } = read;
  const parsed = scenarioSchema.safeParse(input);
  if (!parsed.success) {
    // A file of another version is not blamed for what it holds.
    const ofVersion = parsed.error.issues.filter((issue) => issue.path[0] === "sumpwright");
    return { ok: false, errors: locate(complaintsOf(ofVersion.length > 0 ? ofVersion : parsed.error.issues, [], input)) };
  }
  const named = [...misfits(parsed.data)];
  // A rig can only be built of parts that are there.
  const wrong = named.length > 0 ? named : [...fitMisfits(parsed.data)];
  if (wrong.length > 0) return { ok: false, errors: locate(wrong.map((m) => ({ ...m, at: "value" as const }))) };

  const { defaults, unusual } = walk(scenarioSchema, input, parsed.data);
  return { ok: true, scenario: parsed.data, defaults, warnings: [...read.warnings, ...unusual.map((u) => visible(u.text))] };
}
