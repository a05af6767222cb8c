// Shipped rigs and changed copies of them, as the models take them.

import { readFileSync } from "node:fs";
import type { Rig } from "../../../models/rig.ts";
import { loadScenario } from "../../../scenarios/load/load.ts";
import { type CoupledModel, coupleModels } from "../../../scenarios/model/compile.ts";

export const rigText = (file: string): string =>
  readFileSync(new URL(`../../../scenarios/shipped/rigs/${file}`, import.meta.url), "utf8");

/** @throws Error with the problems of the file */
export function coupledText(text: string): CoupledModel {
  const loaded = loadScenario(text, "rig.yaml");
  if (!loaded.ok) throw new Error(loaded.errors.map(({ problem }) => problem).join("; "));
  return coupleModels(loaded.scenario, text);
}

export const rigOf = (text: string): Rig => coupledText(text).resolved.rig;
