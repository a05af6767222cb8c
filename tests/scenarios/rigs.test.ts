// The example rigs: they load without a warning, ask a question, are drawn whole, and their levels say what they are there to show. Their
// days are those of any other file, so only the levels are computed here.
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { FaultId, VerdictWord } from "../../models/hydraulics/types.ts";
import { errorText, loadScenario } from "../../scenarios/load/load.ts";
import { coupleModels } from "../../scenarios/model/compile.ts";
import { layout } from "../../viz/cutaway/layout.ts";

const folder = new URL("../../scenarios/shipped/rigs/", import.meta.url);
const files = readdirSync(folder).filter((name) => name.endsWith(".yaml"));

/** The plain cut, and what the rig is there to show. */
const SHOWS: Readonly<Record<string, readonly [plain: VerdictWord, fault?: FaultId, then?: VerdictWord]>> = {
  "hole-too-small.yaml": ["TIGHT"],
  "outlets-on-a-tee.yaml": ["HOLDS", "outlet blocked", "FLOODS"],
  "standpipe-in-the-tank.yaml": ["HOLDS", "standpipe lost", "FLOODS"],
  "box-seam-leaks.yaml": ["FLOODS"],
  "six-flickers.yaml": ["HOLDS"],
  "pump-on-a-timer.yaml": ["HOLDS"],
  "weir-grows-over.yaml": ["HOLDS", "weir matted", "TIGHT"],
  "measured.yaml": ["HOLDS"],
  "reactor-and-skimmer.yaml": ["HOLDS", "reactor outlet blocked", "FLOODS"],
  "sock-and-second-sump.yaml": ["HOLDS", "sock blinded", "HOLDS"],
  "forgotten-hose.yaml": ["HOLDS"],
  "two-pumps.yaml": ["HOLDS", "other pump stands", "HOLDS"],
};

test("every example rig is in the table", () => expect([...files].sort()).toEqual(Object.keys(SHOWS).sort()));

describe.each(files)("%s", (file) => {
  const text = readFileSync(new URL(file, folder), "utf8");
  const loaded = loadScenario(text, file);
  if (!loaded.ok) throw new Error(loaded.errors.map(errorText).join("\n"));

  test("loads without a warning, but for the hole that is too small, and asks a question", () => {
    expect(loaded.warnings).toEqual(
      file === "hole-too-small.yaml" ? ["return.hole.bore: 2 mm is unusual (usual: 3 mm to 10 mm)"] : [],
    );
    expect(loaded.scenario.question).toMatch(/\?$/);
  });

  test("its levels are steady, its verdicts are those of the table, and every part of it is drawn", () => {
    const { simulator, running, resolved } = coupleModels(loaded.scenario, text);
    const [plain, fault, then] = SHOWS[file]!;
    expect(running.balanced).toBe(true);
    const quick = { keepTrace: false, follow: false } as const;
    expect(simulator.simulate(quick).verdict.word).toBe(plain);
    if (fault) expect(simulator.simulate({ ...quick, faults: [fault] }).verdict.word).toBe(then);
    const plan = layout(resolved.rig);
    for (const { id } of [resolved.rig.return, ...resolved.rig.moreReturns].flatMap(({ nozzles }) => nozzles))
      expect(plan.pipes.some((pipe) => pipe.id === id)).toBe(true);
    for (const { id } of resolved.rig.displays.flatMap((d) => d.overflows.flatMap((o) => o.drains)))
      expect(plan.pipes.some((pipe) => pipe.id === id)).toBe(true);
    for (const { id, body } of [resolved.rig.return, ...resolved.rig.moreReturns].flatMap(({ branches }) => branches))
      expect(plan.vessels.some((place) => place.id === `${id} body`)).toBe(body !== null);
    expect(plan.socks).toHaveLength(resolved.rig.sump.chambers.filter(({ sock }) => sock).length);
    expect(plan.joined).toHaveLength(resolved.rig.sump.joined.length);
    expect(plan.morePumps).toHaveLength(resolved.rig.moreReturns.length);
  });
});
