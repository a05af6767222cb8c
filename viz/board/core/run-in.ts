// A first event must not turn a run-in without animals into a stocked tank.
import { type Edit, valueAt } from "../../../scenarios/load/edits.ts";

/** The run-in that the format assumes while a file has neither animals nor events. */
const ASSUMED_RUN_IN = { dose: "3 mg/L as NH3" } as const;

/**
 * The edits, with the assumed run-in written into the file before the first event, because the format assumes it only
 * without events. A dose of ammonia by hand takes its place, so nothing is written then.
 */
export function keepingRunIn(data: unknown, edits: readonly Edit[]): readonly Edit[] {
  const missing = (key: string): boolean => {
    const value = valueAt(data, [key]);
    return value === undefined || value === null || (Array.isArray(value) && value.length === 0);
  };
  const firstEvent = edits.some(
    (edit) =>
      (edit.do === "insert" || edit.do === "set") &&
      edit.path[0] === "timeline" &&
      !/"do":"dose ammonia"/.test(JSON.stringify(edit.value)),
  );
  const assumed = missing("timeline") && missing("stock") && missing("cycle");
  return firstEvent && assumed ? [{ do: "set", path: ["cycle"], value: ASSUMED_RUN_IN }, ...edits] : edits;
}
