// The validation page's figures of error, on numbers small enough to know.
import { expect, it } from "vitest";
import type { Course, Pair } from "./compared.ts";
import { coverageOf, errorsOf, page } from "./page.ts";

const pair = (outside: Pair["outside"], model: number): Pair => ({
  set: "s",
  what: "w",
  unit: "u",
  source: "x <y>",
  kind: "measured",
  outside,
  model,
});

it("a range that holds the model's number counts as agreement, others by the factor to the nearer end", () => {
  const errors = errorsOf([pair([1, 2], 1.5), pair([1, 2], 4), pair(10, 5), pair(10, 10.5)]);
  expect(errors).toMatchObject({ count: 4, median: 2, worst: 2, within10: 0.5, within2: 1 });
  expect(errorsOf([pair(-1, 1)])).toMatchObject({ count: 1, median: null });
});

it("coverage counts the readings whose kit step meets the band", () => {
  const course: Course = {
    set: "c",
    what: "w",
    unit: "u",
    source: "s",
    note: "n",
    per: "days",
    times: [0, 1, 2, 3],
    measured: [0, 2, 8, null],
    model: [0, 1, 1, 1],
    low: [0, 1, 1, 1],
    high: [0.1, 2, 2, 2],
  };
  expect(coverageOf([course])).toEqual({ inside: 2, of: 3 });
  const html = page({
    pairs: [pair(1, 1), pair(2, 3)],
    courses: [course],
    figures: new Map([["NI-1", { ready: 30 }]]),
    tests: 3,
    failures: [{ test: "a <test>", message: "expected 1 to be 2" }],
    revised: "text\n\n| scenario | now |\n|---|---|\n| NI-1 | day <30> |\n",
  });
  expect(html).toContain("1 of 3 tests failed");
  expect(html).toContain("a &lt;test&gt;");
  expect(html).toContain("<th>scenario</th><th>now</th>");
  expect(html).toContain("<td>day &lt;30&gt;</td>");
  expect(html).toContain("x &lt;y&gt;");
  expect(html).toContain("2 of 3");
  expect(html).not.toMatch(/src=|http/);
});
