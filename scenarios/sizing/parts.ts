// One choice of parts: edits of the scenario's text, and the model that is built from it again.

import type { Rig } from "../../models/rig.ts";
import { type Edit, editedText, type Plain, valueAt } from "../load/edits.ts";
import { errorText, loadScenario } from "../load/load.ts";
import { type CoupledModel, coupleModels } from "../model/compile.ts";

/** Parts in place of those that are written; what is left out stays as written. */
export interface Parts {
  /** Generic kind of the tower's media. */
  readonly media?: string;
  /** Plan and depth of the media [m]. */
  readonly tower?: { readonly lengthM: number; readonly widthM: number; readonly depthM: number };
  /** Inside length, and running level of the return chamber [m]. */
  readonly sump?: { readonly lengthM: number; readonly waterM: number };
  /** Label flow of the pump. */
  readonly labelM3PerS?: number;
}

export interface Built {
  readonly text: string;
  readonly coupled: CoupledModel;
}

/** What was read of a scenario, before any parts are changed. */
export interface Written {
  readonly file: string;
  readonly source: string;
  readonly data: unknown;
  readonly rig: Rig;
}

const mm = (metres: number): string => `${Number((1000 * metres).toFixed(1))} mm`;
const litresPerHour = (m3PerS: number): string => `${Math.round(3.6e6 * m3PerS)} L/h`;

/** Whether the label flow of the pump is written as a number that can be replaced; a measured curve belongs to one pump. */
export const pumpCanChange = ({ data }: Written): boolean => valueAt(data, ["return", "pump", "curve"]) === undefined;

function* pumpEdits(data: unknown, labelM3PerS: number): Generator<Edit> {
  const pump = valueAt(data, ["return", "pump"]);
  const section = typeof pump === "object" && pump !== null;
  yield { do: "set", path: ["return", "pump", ...(section ? ["flow"] : [])], value: litresPerHour(labelM3PerS) };
  // The power and what was measured are those of the pump that was there.
  if (section && valueAt(data, ["return", "pump", "power"]) !== undefined)
    yield { do: "remove", path: ["return", "pump", "power"] };
  if (valueAt(data, ["measured"]) !== undefined) yield { do: "remove", path: ["measured"] };
}

function* sumpEdits(data: unknown, { sump }: Rig, lengthM: number, waterM: number): Generator<Edit> {
  const inside = valueAt(data, ["sump", "inside"]) !== undefined;
  const wall = inside ? 0 : sump.glassM;
  const sides = [lengthM + 2 * wall, sump.widthM + 2 * wall, sump.heightM + wall];
  yield { do: "set", path: ["sump", inside ? "inside" : "outside"], value: sides.map(mm).join(" x ") };
  yield { do: "set", path: ["sump", "water"], value: mm(waterM) };
  // Chambers keep their proportions; they may not add up to more than the sump.
  const grown = lengthM / sump.lengthM;
  if (valueAt(data, ["sump", "chambers"]) !== undefined)
    for (const [i, chamber] of sump.chambers.entries())
      yield {
        do: "set",
        path: ["sump", "chambers", i, "length"],
        value: mm(Math.floor(1e4 * chamber.lengthM * grown + 1e-6) / 1e4),
      };
}

function* towerEdits(data: unknown, { rig }: Written, { media, tower }: Parts): Generator<Edit> {
  if (valueAt(data, ["tower"]) === "none") yield { do: "remove", path: ["tower"] };
  if (media !== undefined && media !== rig.towers[0]?.media.kind) {
    const kind: Plain = { kind: media };
    yield { do: "set", path: ["tower", 0, "media"], value: kind };
    // A share that was measured belongs to the media that were there.
    if (valueAt(data, ["tower", 0, "wetted"]) !== undefined) yield { do: "remove", path: ["tower", 0, "wetted"] };
  }
  if (!tower) return;
  yield { do: "set", path: ["tower", 0, "plan"], value: `${mm(tower.lengthM)} x ${mm(tower.widthM)}` };
  yield { do: "set", path: ["tower", 0, "depth"], value: mm(tower.depthM) };
}

/** The scenario with other parts. */
export function textWith(written: Written, parts: Parts): string {
  const { source, data, rig } = written;
  return editedText(source, [
    ...towerEdits(data, written, parts),
    ...(parts.sump ? sumpEdits(data, rig, parts.sump.lengthM, parts.sump.waterM) : []),
    ...(parts.labelM3PerS === undefined ? [] : pumpEdits(data, parts.labelM3PerS)),
  ]);
}

/** The model of a scenario with other parts, or why it cannot be built. */
export function builtWith(written: Written, parts: Parts): Built | { readonly problem: string } {
  const text = textWith(written, parts);
  const loaded = loadScenario(text, written.file);
  if (!loaded.ok) return { problem: errorText(loaded.errors[0]).split("\n")[0] };
  return { text, coupled: coupleModels(loaded.scenario, text) };
}
