// Results of consecutive points, the set of points that are done, and sorting of results by point.
import type { MemberResult } from "../../sim/ensemble/ensemble.ts";

/** Results of points from, from + 1, ... */
export interface Batch {
  readonly from: number;
  readonly rows: readonly MemberResult[];
}

/** Points from <= index < to. */
export interface Range {
  readonly from: number;
  readonly to: number;
}

/** Largest distance of a new batch from the first point that is not done; it bounds the results that wait for earlier ones. */
export const LARGEST_LEAD = 20_000;

/** Longer reasons are truncated, so that no record grows without bound. */
const LONGEST_REASON = 500;
export const shortReason = (reason: string): string => reason.slice(0, LONGEST_REASON);

/** The points that are done, as sorted ranges. */
export class DoneRanges {
  private ranges: Range[] = [];
  count = 0;

  /** @returns false, and adds nothing, when one of the points was already done */
  add({ from, to }: Range): boolean {
    let at = this.ranges.length;
    while (at > 0 && this.ranges[at - 1].from >= from) at--;
    const [before, after] = [this.ranges[at - 1], this.ranges[at]];
    if ((before && before.to > from) || (after && after.from < to)) return false;
    const joinsBefore = before?.to === from;
    const joinsAfter = after?.from === to;
    this.ranges.splice(at - (joinsBefore ? 1 : 0), Number(joinsBefore) + Number(joinsAfter), {
      from: joinsBefore ? before.from : from,
      to: joinsAfter ? after.to : to,
    });
    this.count += to - from;
    return true;
  }

  /** The points among 0 .. points - 1 that are not done. */
  missing(points: number): Range[] {
    const gaps: Range[] = [];
    let at = 0;
    for (const { from, to } of this.ranges) {
      if (from > at) gaps.push({ from: at, to: from });
      at = to;
    }
    if (at < points) gaps.push({ from: at, to: points });
    return gaps;
  }
}

/** Sorts batches that arrive almost in order. @throws Error when a point is missing or occurs twice */
export async function* inOrder(batches: AsyncIterable<Batch> | Iterable<Batch>, points: number): AsyncGenerator<Batch> {
  const held = new Map<number, Batch>();
  let next = 0;
  for await (const batch of batches) {
    if (batch.from < next || held.has(batch.from)) throw new Error(`point ${batch.from} is there twice`);
    held.set(batch.from, batch);
    for (let ready = held.get(next); ready; ready = held.get(next)) {
      held.delete(next);
      next += ready.rows.length;
      yield ready;
    }
  }
  if (next !== points || held.size > 0) throw new Error(`point ${next} is missing`);
}

/** One line of text for a batch. Each number has as few digits as restore it exactly; null means missing. */
export const batchLine = ({ from, rows }: Batch): string =>
  JSON.stringify([
    from,
    ...rows.map((row) => ("failure" in row ? row.failure : [...row].map((x) => (Number.isFinite(x) ? x : null)))),
  ]);

/** @returns null for text that is not a batch, such as a truncated line */
export function batchOf(line: string, width: number): Batch | null {
  let read: unknown;
  try {
    read = JSON.parse(line);
  } catch {
    return null;
  }
  if (!Array.isArray(read) || read.length < 2) return null;
  const [from, ...rows] = read as readonly unknown[];
  if (!Number.isInteger(from) || (from as number) < 0) return null;
  const made: MemberResult[] = [];
  for (const row of rows) {
    if (typeof row === "string") made.push({ failure: row });
    else if (Array.isArray(row) && row.length === width && row.every((x) => x === null || typeof x === "number"))
      made.push(Float64Array.from(row, (x: number | null) => x ?? Number.NaN));
    else return null;
  }
  return { from: from as number, rows: made };
}
