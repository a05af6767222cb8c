// Severity of findings: an alarm means stop. It follows from consequence and likelihood; tested over random rigs.
import { describe, expect, test } from "vitest";
import { faultMatrix } from "../../models/hydraulics/planning/fault-matrix.ts";
import { fillMarks } from "../../models/hydraulics/planning/fill-levels.ts";
import { loadScenario } from "../../scenarios/load/load.ts";
import { coupleModels } from "../../scenarios/model/compile.ts";
import { cellStakes } from "../../scenarios/report/hydraulic-report.ts";
import { levelOf } from "../../scenarios/result/stakes.ts";
import { drawOf } from "../fuzz/draw.ts";
import { randomScenario } from "../fuzz/random-scenario.ts";

const URGENCY = ["info", "watch", "alarm"] as const;

test("the level follows from consequence and likelihood (fails if a rare flood is red, or an everyday one is not)", () => {
  expect(levelOf("loss", "planned")).toBe("alarm");
  expect(levelOf("loss", "expected")).toBe("alarm");
  expect(levelOf("loss", "possible")).toBe("watch");
  expect(levelOf("loss", "rare")).toBe("info");
  expect(levelOf("harm", "expected")).toBe("watch");
  for (const likelihood of ["planned", "expected", "possible", "rare"] as const) expect(levelOf("none", likelihood)).toBe("info");
});

/** Random rigs with one tank and few days that load and can be built. */
function rigs(seed: string, wanted: number) {
  const found = [];
  for (let n = 0; found.length < wanted && n < 20 * wanted; n++) {
    const { text } = randomScenario(drawOf(seed, n), { mostTanks: 1, mostDays: 2, usual: true });
    const loaded = loadScenario(text, "random.yaml");
    if (!loaded.ok) continue;
    try {
      found.push({ n, ...coupleModels(loaded.scenario, text) });
    } catch (error) {
      // Other tests check that rigs that cannot be built are refused in plain words.
      if (!(error instanceof Error)) throw error;
    }
  }
  return found;
}

describe("over random rigs", () => {
  const all = rigs("levels", 4);

  test("enough rigs are found", () => expect(all.length).toBe(4));

  test.each(all)(
    "rig $n: a blocked drain agrees with the fault table, and no pair is less severe than its worse fault",
    ({ resolved: { rig } }) => {
      const matrix = faultMatrix(rig);
      const level = (cell: Parameters<typeof cellStakes>[1]) => {
        const { consequence, likelihood } = cellStakes(matrix, cell);
        return URGENCY.indexOf(levelOf(consequence, likelihood));
      };
      for (const pair of matrix.pairs)
        for (const half of matrix.singles.filter(({ faults: [id] }) => pair.faults.includes(id)))
          expect(level(pair), pair.faults.join(" and ")).toBeGreaterThanOrEqual(level(half));
      const [fuse] = fillMarks(rig).fuses;
      const blocked = matrix.singles.find(({ faults }) => faults[0] === "drain blocked");
      if (fuse.outcome === "spills") expect(blocked?.verdict.word).toBe("FLOODS");
      else expect(blocked?.verdict.spillStage).not.toBe("running");
    },
  );
});
