// "Nine runs in ten" holds about as often as it says: hidden truths, drawn afresh and run with every meal, lie in the printed ranges.
import { expect, test } from "vitest";
import { CHEAP_TANK, coverageOf } from "./calibration.ts";

/** Printed by default; so many members give their 5th and 95th percentile to 0.88 of all truths on average. */
const MEMBERS = 40;
const EXPECTED = 36 / 41;
const TRUTHS = 40;
/** Standard deviation of the counted share: of the truths (binomial) and of the percentiles of so many members (beta, Wilks 1941, from memory). */
const DEVIATION = Math.sqrt((EXPECTED * (1 - EXPECTED)) / TRUTHS + (EXPECTED * (1 - EXPECTED)) / (MEMBERS + 2));

test("hidden truths lie in bands and ranges as often as is printed, within three standard deviations (ten seconds)", async () => {
  const { coverage } = await coverageOf(CHEAP_TANK, { members: MEMBERS, truths: TRUTHS, seed: "1" });
  expect(coverage.map(({ what }) => what)).toContain("can handle");
  for (const { what, share } of coverage) expect(share, what).toBeGreaterThan(EXPECTED - 3 * DEVIATION);
  // Nor are they so wide that nothing could ever lie outside.
  const bands = coverage.filter(({ what }) => what === "band of tan" || what === "band of no2").map(({ share }) => share);
  expect(Math.max(...bands)).toBeLessThan(0.99);
}, 120_000);
