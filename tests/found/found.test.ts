// Files that once caused a failure: each must give an answer, or be refused with the place to change.
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { errorText, loadScenario } from "../../scenarios/load/load.ts";
import { type Effort, judge } from "../fuzz/judge.ts";

const folder = new URL("./", import.meta.url);
const files = readdirSync(folder).filter((name) => name.endsWith(".yaml"));
const textOf = (name: string): string => readFileSync(new URL(name, folder), "utf8");

/** The files that are refused, with the reason; the others give an answer. */
const REFUSED: Readonly<Record<string, RegExp>> = {
  "chamber-media-without-room.yaml": /tank\[2\].overflow.drains.to: the drain ends 762 mm .* its mouth stands at 685 mm/,
  "escapes-in-the-name.yaml": /name: U\+001B, which does not show/,
  "five-tanks-levels-that-never-settle.yaml": /off above must lie higher than on below/,
  "four-tanks-weak-pump.yaml": /nozzles\[1\].hole: the hole lies no higher than the outlet's lowest opening/,
  "hourly-events-a-rounding-apart.yaml": /tank\[1\].overflow\[1\].drains.to: the drain ends 903 mm .* its mouth stands at 902 mm/,
  "lines-in-the-name.yaml": /name: U\+000D, which does not show/,
  "outlet-below-the-floor-weak-pump.yaml": /return.outlet: the outlet ends below the floor of the tank: 198 mm of water/,
  "outlet-below-the-floor.yaml": /5:\d+ return.outlet: the outlet ends below the floor of the tank: 200 mm of water/,
  "seven-tanks-with-bands.yaml": /tank\[1\].overflow.drains\[1\].*the drain ends 1091 mm/,
  "six-tanks-levels-that-never-settle.yaml": /tank\[2\].overflow.drains.to: the drain ends 1250 mm/,
};
/** Options of a run: the days and one outage by default, more where the failure needed more. */
const EFFORT: Readonly<Record<string, Partial<Effort>>> = {
  "chamber-media-without-room-higher.yaml": { matrix: true },
  "seven-tanks-with-bands-higher.yaml": { members: 3 },
};

describe("files that once caused a failure", () => {
  test("are present, those to be refused included", () => {
    expect(files.length).toBeGreaterThan(20);
    expect(files).toEqual(expect.arrayContaining(Object.keys(REFUSED)));
  });

  test.each(files.filter((file) => file in REFUSED))("%s is refused with its place", (file) => {
    const loaded = loadScenario(textOf(file), file);
    expect(loaded.ok ? "" : loaded.errors.map(errorText).join("\n")).toMatch(REFUSED[file]!);
  });

  test.each(files.filter((file) => !(file in REFUSED)))("%s is answered", async (file) => {
    const effort = { matrix: false, members: 0, page: true, ...EFFORT[file] };
    expect(await judge(textOf(file), effort)).toEqual({ outcome: "fine", what: [] });
  });

  test("twenty thousand unknown keys, or a very long one, are refused quickly and with a short message", () => {
    const head = "sumpwright: 1\nname: x\n";
    const many = Array.from({ length: 20_000 }, (_, i) => `key${i}: 1`).join("\n");
    const events = `timeline: [${"{ at: day 1, do: lid }, ".repeat(10_000)}]`;
    for (const text of [
      `${head}${many}\n`,
      `${head}${"k".repeat(1000)}: 1\n`,
      `${head}units: ${"k".repeat(500_000)}\n`,
      `${head}${events}\n`,
    ]) {
      const began = process.cpuUsage();
      const loaded = loadScenario(text, "hostile.yaml");
      if (loaded.ok) throw new Error("loaded");
      expect(loaded.errors.map(errorText).join("\n").length).toBeLessThan(60_000);
      // Seconds of processor; it once took 26.
      expect(process.cpuUsage(began).user / 1e6).toBeLessThan(8);
    }
  });
});
