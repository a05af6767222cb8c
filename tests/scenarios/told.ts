// Runs a scenario written in a test, from its text to the result.
import { errorText, loadScenario } from "../../scenarios/load/load.ts";
import type { Finding, RunResult } from "../../scenarios/result/result.ts";
import { type RunSettings, runScenario } from "../../scenarios/run/run.ts";

export async function resultOf(text: string, settings: Partial<RunSettings> = {}): Promise<RunResult> {
  const loaded = loadScenario(text, "told.yaml");
  if (!loaded.ok) throw new Error(loaded.errors.map(errorText).join("\n"));
  return runScenario({ ...loaded, source: text, file: "told.yaml" }, { seed: "1", members: 0, matrix: false, ...settings });
}

/** The finding whose id begins with a prefix. */
export function findingOf(result: RunResult, id: string): Finding {
  const found = result.findings.find((finding) => finding.id.startsWith(id));
  if (!found) throw new Error(`no finding ${id}; there are ${result.findings.map((finding) => finding.id).join(", ")}`);
  return found;
}

/** The number after a pattern in a sentence. */
export function figure(text: string, after: RegExp): number {
  const match = new RegExp(`${after.source} ([-\\d.]+)`).exec(text);
  if (!match) throw new Error(`no ${after.source} in: ${text}`);
  return Number(match[1]);
}
