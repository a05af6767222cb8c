// Accumulates the results of a study for the page, one point at a time, in memory that does not grow with their number.

import { type SobolIndices, SobolSums } from "../../sim/design/sobol-indices.ts";
import type { MemberResult } from "../../sim/ensemble/ensemble.ts";
import { QuantileSketch } from "../../sim/ensemble/quantile-sketch.ts";
import { mostlyWritten } from "../build/build.ts";
import { rankOf } from "./columns.ts";
import type { Study } from "./load.ts";
import type { Column } from "./schema.ts";
import type { Input } from "./variables.ts";

export const DESIGNS_SHOWN = 10;
/** Lines in the parallel-coordinates plot, evenly spaced over the points. */
const MOST_LINES = 240;
/** Cells along one side of the outcome map, for numbers; each word has its own cell, up to the second limit. */
const MAP_CELLS = 8;
const MOST_WORDS = 20;
/** Number of recorded numbers for which Sobol' indices are computed. */
const MOST_INDEXED = 6;
/** Number of points that are sampled to find the range of an input. */
const LOOKED_AT = 4096;
const MOST_REASONS = 12;

export interface PointSummary {
  readonly point: number;
  readonly inputs: readonly number[];
  readonly outcomes: readonly number[];
}

export interface ColumnSummary {
  readonly column: Column;
  /** Number of points that have a value. */
  readonly count: number;
  /** Lowest, 5 %, median, 95 %, highest; null for words, and where no point has a value. */
  readonly quantiles: readonly [number, number, number, number, number] | null;
  /** Count of each word; null for numbers. */
  readonly words: readonly number[] | null;
}

/** Cells along one side of the map: the midpoint of each, or the word of each. */
export interface Side {
  readonly input: number;
  readonly edges: readonly number[] | null;
  readonly labels: readonly string[] | null;
}

export interface OutcomeMap {
  readonly across: Side;
  readonly up: Side;
  readonly column: number;
  /** By row from the lowest: number of points in a cell, number of those with a value, and their mean. */
  readonly cells: readonly (readonly { readonly points: number; readonly count: number; readonly mean: number | null }[])[];
}

export interface StudySummary {
  readonly name: string;
  readonly question: string;
  readonly file: string;
  readonly scenarios: readonly { readonly file: string; readonly name: string }[];
  /** Unit system of the first scenario, which the page uses. */
  readonly units: "metric" | "US";
  readonly design: string;
  readonly seed: string;
  readonly points: number;
  readonly failed: number;
  readonly reasons: readonly { readonly reason: string; readonly count: number }[];
  readonly inputs: readonly Input[];
  readonly columns: readonly ColumnSummary[];
  readonly rank: { readonly column: number; readonly best: "lowest" | "highest" };
  readonly best: readonly PointSummary[];
  readonly worst: readonly PointSummary[];
  readonly lines: readonly PointSummary[];
  readonly map: OutcomeMap | null;
  readonly indices: readonly {
    readonly column: number;
    readonly groups: number;
    readonly leftOut: number;
    readonly variables: readonly string[];
    readonly indices: readonly SobolIndices[];
  }[];
}

/** A few points with the smallest values of a number, sorted. */
class Leaders {
  readonly kept: (PointSummary & { readonly by: number })[] = [];
  add(by: number, point: () => PointSummary): void {
    const { kept } = this;
    if (kept.length === DESIGNS_SHOWN && by >= kept[kept.length - 1].by) return;
    const at = kept.findIndex((other) => other.by > by);
    kept.splice(at < 0 ? kept.length : at, 0, { ...point(), by });
    if (kept.length > DESIGNS_SHOWN) kept.pop();
  }
  get points(): readonly PointSummary[] {
    return this.kept.map(({ point, inputs, outcomes }) => ({ point, inputs, outcomes }));
  }
}

export class Summary {
  private readonly study: Study;
  private readonly columns: readonly Column[];
  private readonly rank: ReturnType<typeof rankOf>;
  private readonly best = new Leaders();
  private readonly worst = new Leaders();
  private readonly sketches: readonly QuantileSketch[];
  private readonly words: readonly number[][];
  private readonly lines: PointSummary[] = [];
  private readonly stride: number;
  private readonly map: {
    readonly across: Side;
    readonly up: Side;
    readonly column: number;
    readonly cells: { points: number; count: number; sum: number }[][];
  } | null;
  private readonly reasons = new Map<string, number>();
  private readonly sums: readonly { readonly column: number; readonly sums: SobolSums }[];
  private readonly groupSize: number;
  private group: (Float64Array | null)[] = [];
  private groups = 0;
  private points = 0;
  private failed = 0;

  constructor(study: Study, columns: readonly Column[]) {
    this.study = study;
    this.columns = columns;
    this.rank = rankOf(study, columns);
    this.sketches = columns.map(() => new QuantileSketch(1));
    this.words = columns.map(({ labels }) => (labels ?? []).map(() => 0));
    this.stride = Math.max(1, Math.ceil(study.points / MOST_LINES));
    this.map = mapOf(study, columns, this.rank.column);
    const indexed = study.text.design.kind === "sobol indices" ? valueColumns(columns).slice(0, MOST_INDEXED) : [];
    this.groupSize = study.dimensions.length + 2;
    this.sums = indexed.map((column) => ({ column, sums: new SobolSums(study.dimensions.length, study.text.seed) }));
  }

  /** @param index of the point; points must come in order from 0 */
  add(index: number, inputs: Float64Array, row: MemberResult): void {
    this.points++;
    const outcomes = "failure" in row ? null : row;
    if (this.sums.length > 0) this.addToGroup(outcomes);
    if ("failure" in row) {
      this.failed++;
      const reason = this.reasons.has(row.failure) || this.reasons.size < MOST_REASONS ? row.failure : "other reasons";
      this.reasons.set(reason, (this.reasons.get(reason) ?? 0) + 1);
      return;
    }
    const one = new Float64Array(1);
    row.forEach((value, c) => {
      if (!Number.isFinite(value)) return;
      if (this.columns[c].labels) this.words[c][value]++;
      else {
        one[0] = value;
        this.sketches[c].add(one);
      }
    });
    const summary = (): PointSummary => ({ point: index, inputs: [...inputs], outcomes: [...row] });
    const { column, sign } = this.rank;
    const by = row[column];
    // A missing value counts as worst: a filter that is never ready is worse than a late one.
    this.best.add(Number.isFinite(by) ? sign * by : Number.POSITIVE_INFINITY, summary);
    this.worst.add(Number.isFinite(by) ? -sign * by : Number.NEGATIVE_INFINITY, summary);
    if (index % this.stride === 0) this.lines.push(summary());
    this.addToMap(inputs, row);
  }

  private addToGroup(outcomes: Float64Array | null): void {
    this.group.push(outcomes);
    if (this.group.length < this.groupSize) return;
    this.groups++;
    for (const { column, sums } of this.sums) sums.add(this.group.map((row) => row?.[column] ?? Number.NaN));
    this.group = [];
  }

  private addToMap(inputs: Float64Array, row: Float64Array): void {
    if (!this.map) return;
    const { across, up, column, cells } = this.map;
    const [x, y] = [across, up].map((side) => cellOf(side, inputs[side.input]));
    if (x < 0 || y < 0) return;
    const cell = cells[y][x];
    cell.points++;
    if (!Number.isFinite(row[column])) return;
    cell.count++;
    cell.sum += row[column];
  }

  finish(): StudySummary {
    // With few points, only the better half counts as best.
    const shown = Math.min(DESIGNS_SHOWN, Math.ceil((this.points - this.failed) / 2));
    const best = this.best.points.slice(0, shown);
    const { text, bases, inputs, dimensions } = this.study;
    return {
      name: text.name,
      question: text.question ?? "",
      file: this.study.bundle.file,
      scenarios: bases.map(({ file, scenario }) => ({ file, name: scenario.name })),
      units: bases[0].scenario.units ?? mostlyWritten(bases[0].text),
      design: text.design.kind,
      seed: text.seed,
      points: this.points,
      failed: this.failed,
      reasons: [...this.reasons].map(([reason, count]) => ({ reason, count })).sort((a, b) => b.count - a.count),
      inputs,
      columns: this.columns.map((column, c) => ({
        column,
        count: column.labels ? this.words[c].reduce((a, b) => a + b, 0) : this.sketches[c].count,
        quantiles:
          column.labels || this.sketches[c].count === 0
            ? null
            : ([0, 0.05, 0.5, 0.95, 1].map((p) => this.sketches[c].quantile(p)[0]) as [number, number, number, number, number]),
        words: column.labels ? this.words[c] : null,
      })),
      rank: { column: this.rank.column, best: this.rank.sign === 1 ? "lowest" : "highest" },
      best,
      worst: this.worst.points.slice(0, shown).filter(({ point }) => !best.some((other) => other.point === point)),
      lines: this.lines,
      map: this.map && {
        ...this.map,
        cells: this.map.cells.map((line) =>
          line.map(({ points, count, sum }) => ({ points, count, mean: count > 0 ? sum / count : null })),
        ),
      },
      indices: this.sums.map(({ column, sums }) => ({
        column,
        groups: sums.groups,
        leftOut: this.groups - sums.groups,
        variables: dimensions.map(({ name }) => name),
        indices: sums.indices(),
      })),
    };
  }
}

/** Columns of plain numbers, except curves. */
const valueColumns = (columns: readonly Column[]): readonly number[] =>
  columns.flatMap(({ labels, from }, c) => (labels === null && !(from.is === "curve" && typeof from.at === "number") ? [c] : []));

function mapOf(study: Study, columns: readonly Column[], ranked: number) {
  const { map } = study.text;
  const looked = Array.from({ length: Math.min(study.points, LOOKED_AT) }, (_, i) =>
    Math.floor((i * study.points) / Math.min(study.points, LOOKED_AT)),
  ).map((index) => study.point(index).inputs);
  const sides = study.inputs.flatMap((input, i): Side[] => {
    if (input.labels)
      return input.labels.length > 1 && input.labels.length <= MOST_WORDS
        ? [{ input: i, edges: null, labels: input.labels }]
        : [];
    const values = [...new Set(looked.map((point) => point[i]).filter(Number.isFinite))].sort((a, b) => a - b);
    if (values.length < 2) return [];
    if (values.length <= MAP_CELLS) return [{ input: i, edges: values, labels: values.map(String) }];
    const [low, high] = [values[Math.floor(0.005 * values.length)], values[Math.ceil(0.995 * values.length) - 1]];
    return [
      { input: i, edges: Array.from({ length: MAP_CELLS + 1 }, (_, e) => low + ((high - low) * e) / MAP_CELLS), labels: null },
    ];
  });
  const side = (name: string | undefined, n: number): Side | undefined =>
    name === undefined ? sides[n] : sides.find(({ input }) => study.inputs[input].name === name);
  const across = side(map?.across, 0);
  const up = side(map?.up, 1);
  if (!across || !up) return null;
  const column = map?.of === undefined ? ranked : columns.findIndex(({ name }) => name === map.of);
  const count = ({ edges, labels }: Side): number => labels?.length ?? edges!.length - 1;
  return {
    across,
    up,
    column,
    cells: Array.from({ length: count(up) }, () =>
      Array.from({ length: count(across) }, () => ({ points: 0, count: 0, sum: 0 })),
    ),
  };
}

/** Index of the cell of a side that contains a value; values outside belong to the outermost cell. -1 for no value. */
function cellOf({ edges, labels }: Side, value: number): number {
  if (!Number.isFinite(value)) return -1;
  if (edges === null) return value;
  if (labels) return edges.indexOf(value);
  const cells = edges.length - 1;
  const at = Math.floor(((value - edges[0]) / (edges[cells] - edges[0])) * cells);
  return Math.max(0, Math.min(cells - 1, at));
}
