// One point of a study: sets its values in the scenario, runs it, and reads off the recorded numbers. Works in any worker.

import { faultsFor } from "../../models/hydraulics/outage/faults.ts";
import type { OutageSimulator } from "../../models/hydraulics/outage/outage-simulation.ts";
import type { FaultId, OutageRun } from "../../models/hydraulics/types.ts";
import type { BiofilmStock } from "../../models/nitrogen/tank/biofilm-stock.ts";
import type { CreateMember, MemberResult } from "../../sim/ensemble/ensemble.ts";
import { type Balance, balanceOf, coupleModels } from "../model/compile.ts";
import { nitrogenResult } from "../report/nitrogen-report.ts";
import type { Series } from "../result/result.ts";
import { levelOfStatement, type Statement } from "../result/statement.ts";
import { Answers, finders } from "../run/answers.ts";
import { shortReason } from "./batch.ts";
import { LEVELS, VERDICTS } from "./columns.ts";
import { loadStudy, type Point, type Study } from "./load.ts";
import { type Column, type StudyBundle, type StudySetup, setupSchema } from "./schema.ts";

/** A cache of the last few keys. */
class Recent<T> {
  private readonly made = new Map<string, T>();
  private readonly most: number;
  constructor(most: number) {
    this.most = most;
  }
  get(key: string, make: () => T): T {
    const value = this.made.get(key) ?? make();
    this.made.delete(key);
    this.made.set(key, value);
    if (this.made.size > this.most) this.made.delete(this.made.keys().next().value!);
    return value;
  }
}

interface Hydraulics extends Balance {
  readonly simulator: OutageSimulator;
  story: OutageRun | null;
}

const MOST_CACHED = 32;

/** What neighbouring points share: the hydraulics of a rig, and the mature biofilm of a rig and its management. */
class Shared {
  private readonly rigs = new Recent<Hydraulics>(MOST_CACHED);
  private readonly colonies = new Recent<BiofilmStock>(MOST_CACHED);

  answers({ base, changes }: Point): Answers {
    const scenario = base.changed(changes);
    if ("length" in scenario) throw new Unfit(scenario.map(({ problem }) => problem).join("; "));
    let hydraulics: Hydraulics | undefined;
    const coupled = coupleModels(scenario, base.text, "ion", (rig) => {
      hydraulics = this.rigs.get(JSON.stringify(rig), () => ({ ...balanceOf(rig), story: null }));
      return hydraulics;
    });
    const known = hydraulics!;
    return new Answers(coupled, {
      matrix: false,
      story: () => (known.story ??= known.simulator.simulate()),
      mature: (compute) => this.colonies.get(stockKey(coupled.resolved), compute),
    });
  }
}

/** Cache key of the mature biofilm, which does not depend on events, inoculum and length of the run. */
function stockKey({ rig, management }: Answers["resolved"]): string {
  const { events, seed, days, ...lasting } = management;
  return JSON.stringify([rig, lasting]);
}

/** Values that do not form a valid scenario. */
class Unfit extends Error {}

/**
 * The member function of a study: the recorded numbers of a point, by its index. It ignores the random stream, because
 * the index determines the point.
 */
export const createPoint: CreateMember<StudySetup> = (setup) => {
  const { bundle, columns } = setupSchema.parse(setup);
  const study = studyOf(bundle);
  const shared = new Shared();
  return (index) => recorded(shared, study, columns, index);
};

/** The study in a bundle. @throws Error when its texts are not a valid study, which is checked before they are sent */
export function studyOf({ file, text, files }: StudyBundle): Study {
  const loaded = loadStudy(text, file, (path) => files[path] ?? { problem: "it is not in the bundle" });
  if (!loaded.ok) throw new Error(`the study was refused: ${loaded.errors[0]?.problem}`);
  return loaded.study;
}

function recorded(shared: Shared, study: Study, columns: readonly Column[], index: number): MemberResult {
  try {
    const read = new Readings(shared.answers(study.point(index)));
    // One representation of each number, so that every store returns it unchanged: no infinity, no negative zero.
    return Float64Array.from(columns, (column) => {
      const value = read.column(column);
      return Number.isFinite(value) ? value + 0 : Number.NaN;
    });
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    const reason = error instanceof RangeError || error instanceof TypeError ? `internal error: ${message}` : message;
    return { failure: shortReason(reason) };
  }
}

/** Reads numbers off the answers for one scenario; each finder and verdict is evaluated once. */
class Readings {
  private readonly found = new Map<number, readonly Statement[]>();
  private readonly verdicts = new Map<
    string,
    { readonly word: string; readonly marginM: number; readonly floorM3: number } | null
  >();
  private series: { readonly days: readonly number[]; readonly byId: ReadonlyMap<string, Series> } | undefined;
  private readonly asked: Answers;

  constructor(asked: Answers) {
    this.asked = asked;
  }

  column({ unit, from }: Column): number {
    switch (from.is) {
      case "finding": {
        const finding = this.findings(from.finder).find(({ id }) => id === from.id);
        if (!finding) return Number.NaN;
        if (from.part === "level") return LEVELS.indexOf(levelOfStatement(finding));
        return finding.unit === unit ? (finding.value ?? Number.NaN) : Number.NaN;
      }
      case "curve":
        return this.curve(from.series, from.at);
      case "fault": {
        const verdict = this.verdict(from.faults);
        if (!verdict) return Number.NaN;
        if (from.part === "verdict") return (VERDICTS as readonly string[]).indexOf(verdict.word);
        return from.part === "margin" ? verdict.marginM : verdict.floorM3;
      }
    }
  }

  private findings(finder: number | null): readonly Statement[] {
    if (finder === null) return finders.flatMap((_, i) => this.findings(i));
    let statements = this.found.get(finder);
    if (!statements) {
      statements = finders[finder](this.asked);
      this.found.set(finder, statements);
    }
    return statements;
  }

  private curve(id: string, at: number | "highest" | "lowest" | "last"): number {
    if (!this.series) {
      const run = this.asked.run();
      const { timeDays, series } = nitrogenResult(run, run.states.length - 1, null, []);
      this.series = { days: timeDays, byId: new Map(series.map((one) => [one.id, one])) };
    }
    const { days, byId } = this.series;
    const values = byId.get(id)?.values;
    if (!values) return Number.NaN;
    if (typeof at !== "number") {
      const there = values.filter((value) => value !== null);
      if (at === "last") return there.at(-1) ?? Number.NaN;
      if (there.length === 0) return Number.NaN;
      return there.reduce((a, b) => (at === "highest" ? Math.max(a, b) : Math.min(a, b)));
    }
    const after = days.findIndex((d) => d >= at);
    if (after < 0) return Number.NaN;
    const [here, before] = [values[after], values[Math.max(0, after - 1)]];
    if (here === null || before === null) return Number.NaN;
    if (after === 0 || days[after] === at) return here;
    return before + ((here - before) * (at - days[after - 1])) / (days[after] - days[after - 1]);
  }

  private verdict(faults: readonly string[]) {
    const key = faults.join();
    let verdict = this.verdicts.get(key);
    if (verdict === undefined) {
      verdict = this.judged(faults);
      this.verdicts.set(key, verdict);
    }
    return verdict;
  }

  /** Null where the rig does not have such a fault. */
  private judged(faults: readonly string[]) {
    if (faults.length === 0) return this.asked.plainOutage().verdict;
    const { rig } = this.asked.resolved;
    const known = faultsFor(rig).map(({ id }) => id as string);
    if (!faults.every((fault) => known.includes(fault))) return null;
    return this.asked.coupled.simulator.verdict(faults as readonly FaultId[]).verdict;
  }
}
