// Loads and checks the text of a scenario. It reports every error at once with line, column and a caret, and never
// throws for bad input.
import { FORMAT_VERSION, type Scenario, scenarioSchema } from "../schema/schema.ts";
import { walk } from "../schema/walk.ts";
import { visible } from "../text/invisible-characters.ts";
import type { DefaultUsed } from "../text/notes.ts";
import { inconsistencies } from "./consistency-checks.ts";
import { misfits } from "./fit-checks.ts";
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

const isLaterVersion = (input: object): boolean => {
  const version = (input as { readonly sumpwright?: unknown }).sumpwright;
  return Number.isInteger(version) && (version as number) > FORMAT_VERSION;
};

/**
 * Loads a scenario.
 * @param text YAML
 * @param file name for messages
 * @returns the checked scenario, or all errors in the order of the file
 * @example
 * const loaded = loadScenario(text, "tank.yaml");
 * if (!loaded.ok) for (const error of loaded.errors) console.error(errorText(error));
 */
export function loadScenario(text: string, file: string): Loaded {
  const read = readYaml(text, file, "scenario", "sumpwright: 1");
  if (!read.ok) return read;
  const { input, locate } = read;
  const parsed = scenarioSchema.safeParse(input);
  if (!parsed.success || read.odd) {
    const issues = parsed.error?.issues ?? [];
    // The contents of a file of a later version are not checked.
    const later = issues.filter((issue) => issue.path[0] === "sumpwright" && isLaterVersion(input));
    return { ok: false, errors: locate(complaintsOf(later.length > 0 ? later : issues, [], input)) };
  }
  const named = [...inconsistencies(parsed.data)];
  // The rig can be built only when the parts that it refers to exist.
  const wrong = named.length > 0 ? named : [...misfits(parsed.data)];
  if (wrong.length > 0) return { ok: false, errors: locate(wrong.map((m) => ({ ...m, at: "value" as const }))) };

  const { defaults, unusual } = walk(scenarioSchema, input, parsed.data);
  return { ok: true, scenario: parsed.data, defaults, warnings: [...read.warnings, ...unusual.map((u) => visible(u.text))] };
}
