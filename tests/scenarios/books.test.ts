// A balance that does not close is reported on the page, first and as an alarm.
import { expect, test } from "vitest";
import { bookFindings } from "../../scenarios/findings/books.ts";
import { fixtureResult } from "../viz/fixture.ts";

const { hydraulics, nitrogen } = fixtureResult();

test("closed balances give no finding", () => {
  expect(bookFindings(hydraulics, nitrogen)).toEqual([]);
});

test.each([
  [
    "nitrogen",
    hydraulics,
    { ...nitrogen, ledger: { ...nitrogen.ledger, imbalance: 2.7e-8 } },
    "nitrogen is off by 2.7e-8 of what came in",
  ],
  ["solids", hydraulics, { ...nitrogen, inertSolids: { ...nitrogen.inertSolids, imbalance: 2e-9 } }, "dirt is off by 2.0e-9"],
  ["water", { ...hydraulics, waterImbalance: 1e-8 }, nitrogen, "water is off by 1.0e-8 of what is there"],
  ["a level under a floor", { ...hydraulics, underFloorM: 0.003 }, nitrogen, "below its floor by 3.0e-3 m"],
  ["not a number", { ...hydraulics, waterImbalance: Number.NaN }, nitrogen, "water is off by NaN"],
])("open books of %s are an alarm", (_, water, days, words) => {
  const [finding] = bookFindings(water, days);
  expect(finding?.level).toBe("alarm");
  expect(JSON.stringify(finding?.text)).toContain(words);
});
