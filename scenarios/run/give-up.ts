// The message for a scenario that could not be computed: the reason, and the part of the file to change.
import type { Scenario } from "../schema/schema.ts";

/** Parts of the file, by words in the component names of the solvers. */
const PARTS: readonly (readonly [words: RegExp, keys: string])[] = [
  [/prefilter|pad of/, "tower: prefilter"],
  [/tray|drip holes/, "tower: tray"],
  [/media of|media,|tower/, "tower"],
  [/closed filter|canister/, "closed filter"],
  [/drain/, "tank: overflow: drains"],
  [/overflow|weir|box|cup|siphon tubes/, "tank: overflow"],
  [/nozzle|return pipe|outlet|pump/, "return"],
  [/top-off|reservoir/, "top off"],
  [/sump|chamber/, "sump"],
  [/animals|food|guts/, "stock"],
  [/glass, rock|display|tank/, "tank"],
];
const MOST_NAMED = 4;

/** The part of the file to which a failed computation points. */
function partOf(message: string, { tank, tower, sump }: Scenario): string {
  const named = [
    ...tank.map(({ name }) => [name, "tank"] as const),
    ...(Array.isArray(tower) ? tower.map(({ name }) => [name, "tower"] as const) : []),
    ...(sump.chambers ?? []).map(({ name }) => [name, "sump: chambers"] as const),
  ].find(([name]) => message.includes(name));
  const generic = PARTS.find(([words]) => words.test(message))?.[1];
  return generic ?? named?.[1] ?? "timeline";
}

/**
 * The message of a run that was given up.
 * @param message of the solver
 * @param unusual values outside their usual range, from the loader: the most likely cause
 */
export function giveUpText(message: string, scenario: Scenario, unusual: readonly string[]): string {
  const what = message.charAt(0).toUpperCase() + message.slice(1);
  const where = partOf(message, scenario);
  const advice =
    unusual.length > 0
      ? `Change what is unusual in the file first: ${unusual.slice(0, MOST_NAMED).join("; ")}. Then look at ${where}.`
      : `Change sizes or flows under ${where} in the file; everything else can stay.`;
  return `${what}. ${advice}`;
}
