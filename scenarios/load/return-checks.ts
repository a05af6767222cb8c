// Consistency of a return line: pump, outlets and side branches.

import type { Scenario } from "../schema/schema.ts";
import { type Inconsistency, unknownName } from "./inconsistency.ts";

type LineText = Omit<Scenario["return"], "name">;

/** @param at where the line stands in the file */
export function* returnMistakes(
  at: readonly PropertyKey[],
  line: LineText,
  waterM: number,
  tankNames: readonly string[],
  chamberNames: readonly string[],
): Generator<Inconsistency> {
  const { pump, nozzles, outlet, hole, branches } = line;
  if (pump.flow === undefined && pump.curve === undefined)
    yield { path: [...at, "pump"], problem: "missing: write the flow on the label, or a curve" };
  if (pump.flow !== undefined && pump.curve !== undefined)
    yield { path: [...at, "pump"], problem: "write the flow or the curve, not both" };
  if (pump.curve) {
    if (pump.curve.length < 2) yield { path: [...at, "pump", "curve"], problem: "a curve needs at least two points" };
    for (let i = 1; i < pump.curve.length; i++) {
      const [a, b] = [pump.curve[i - 1]!, pump.curve[i]!];
      if (b.flow <= a.flow || b.head > a.head)
        yield { path: [...at, "pump", "curve", i], problem: "from point to point the flow must rise and the head must not" };
    }
  }
  if (pump.intake >= waterM)
    yield {
      path: at.length === 1 ? ["sump", "water"] : [...at, "pump", "intake"],
      problem: "the running level is below the pump's intake",
    };
  if (nozzles && (outlet !== undefined || hole !== undefined))
    yield { path: [...at, "nozzles"], problem: "write outlet and hole, or nozzles, not both" };
  const teed = (nozzles ?? []).filter(({ tee }) => tee !== undefined).length;
  if (nozzles && teed > 0 && teed < nozzles.length)
    yield {
      path: [...at, "nozzles", nozzles.findIndex(({ tee }) => tee === undefined)],
      problem: "the other outlets leave the riser at a tee: write the height of the tee of this one too",
    };
  for (const [i, n] of (nozzles ?? []).entries()) {
    const branch = (["branch bore", "branch length"] as const).find((key) => n[key] !== undefined);
    if (n.tee === undefined && (branch || n.valve < 1))
      yield {
        path: [...at, "nozzles", i, branch ?? "valve"],
        problem: "a branch begins at a tee of the riser: write tee, its height above the sump floor",
      };
    if (n.tank !== undefined && !tankNames.includes(n.tank))
      yield { path: [...at, "nozzles", i, "tank"], problem: unknownName(n.tank, tankNames, "tank") };
  }
  yield* branchMistakes(at, branches, chamberNames);
}

/** Side branches that end nowhere, and bodies whose openings lie outside them. */
function* branchMistakes(
  at: readonly PropertyKey[],
  branches: Scenario["return"]["branches"],
  chamberNames: readonly string[],
): Generator<Inconsistency> {
  for (const [i, b] of branches.entries()) {
    const here = [...at, "branches", i];
    if (b.to !== undefined && b.to !== "return" && !chamberNames.includes(b.to))
      yield { path: [...here, "to"], problem: unknownName(b.to, chamberNames, "chamber") };
    const { body } = b;
    if (!body) continue;
    const mouth = body["outlet mouth"];
    if (mouth !== undefined && mouth >= body.height)
      yield { path: [...here, "body", "outlet mouth"], problem: "the outlet lies above its lid or rim" };
    if (body.inlet >= (mouth ?? body.height))
      yield { path: [...here, "body", "inlet"], problem: "the feed ends above its outlet" };
  }
}
