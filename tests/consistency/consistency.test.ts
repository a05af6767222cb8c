// One result tells one thing once: every sentence, table, mark and calendar line is read, and each quantity told twice is compared.
import { describe, expect, test } from "vitest";
import { shipped, shippedResult } from "../shipped-results.ts";
import { contradictions } from "./contradictions.ts";
import { keptWalks, walk } from "./walk.ts";

/** Systems whose point is that they are badly built. */
const BADLY_BUILT = ["blocked-hole-overfilled.yaml", "deep-return-check-valve.yaml", "hang-on-overflow.yaml"];

describe("shipped scenarios", () => {
  test.each(shipped)(
    "%s does not contradict itself, and shows an alarm only where it is badly built (some seconds)",
    async (name) => {
      const result = await shippedResult(name);
      expect([...contradictions(result)]).toEqual([]);
      if (BADLY_BUILT.includes(name)) expect(result.answer.groups.doNow).not.toEqual([]);
      else expect(result.answer.groups.doNow).toEqual([]);
    },
    120_000,
  );
});

test.each(keptWalks())("the random scenario $name does not contradict itself", async (one) => {
  expect(await walk(one)).toEqual([]);
});

describe("the walk finds what it looks for", () => {
  const base = shippedResult("first-tank.yaml");

  test("a calendar that is a day off", async () => {
    const result = await base;
    const calendar = result.calendar.map((entry) => (entry.title === "Likely ready" ? { ...entry, day: entry.day + 1 } : entry));
    expect([...contradictions({ ...result, calendar })].join()).toMatch(
      /the day it is ready is \d+ in .*, but \d+ in the calendar/,
    );
  });

  test("a highest that is not the highest, and a unit of the other system", async () => {
    const result = await base;
    const findings = result.findings.map((f) => {
      if (f.id !== "nitrite-peak") return f;
      const said = (f.said ?? []).map((part) =>
        typeof part !== "string" && part.is === "nitrite" ? { ...part, value: part.value / 2 } : part,
      );
      return { ...f, text: `${f.text} It stands 3/4 in high.`, said };
    });
    const found = [...contradictions({ ...result, findings })].join();
    expect(found).toMatch(/nitrite-peak: told .*, the chart has/);
    expect(found).toMatch(/unit of the other system, "3\/4 in"/);
  });

  test("a plain cut told with two margins", async () => {
    const result = await base;
    const findings = result.findings.map((f) => (f.id === "power-cut" ? { ...f, value: 0.02 } : f));
    expect([...contradictions({ ...result, findings })].join()).toMatch(
      /the plain cut: margin is .* but 0.02 in the finding power-cut/,
    );
  });
});
