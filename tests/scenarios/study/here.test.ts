// A study on one machine: its command, interrupted and killed, and its output files.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { asyncBufferFromFile, parquetMetadataAsync, parquetReadObjects } from "hyparquet";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { FILLS, program, projectFile, until } from "./processes.ts";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "sumpwright-study-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const OUTPUTS = ["fills.parquet", "fills.csv", "fills.csv-metadata.json", "fills.html"];
const bytesIn = (out: string): readonly string[] =>
  OUTPUTS.map((name) => readFileSync(join(folder, out, name)).toString("base64"));
const study = (out: string, ...more: string[]) => program(["study", FILLS, "--out", join(folder, out), "--pages", "0", ...more]);
const pointsOf = (out: string): string => {
  try {
    return readFileSync(join(folder, out, "fills.points"), "utf8");
  } catch {
    return "";
  }
};

describe("a study on one machine", () => {
  test("gives the same bytes on one core and on two cores", async () => {
    expect((await study("two", "--threads", "2").done).code).toBe(0);
    expect((await study("one", "--threads", "1").done).code).toBe(0);
    expect(bytesIn("one")).toEqual(bytesIn("two"));
  }, 300_000);

  test("resumes after a kill and after an interrupt: no point is lost, none runs twice, and the bytes are the same", async () => {
    let kept = "";
    for (const signal of ["SIGKILL", "SIGINT", "SIGKILL"] as const) {
      const { child, done } = study("killed", "--threads", "2");
      await until("more points", () => pointsOf("killed").length > kept.length + 100);
      child.kill(signal);
      const { code, text } = await done;
      if (signal === "SIGINT") {
        expect(code).toBe(130);
        expect(text).toMatch(/Stopped: \d+ of 120 points are done and kept/);
      }
      // Finished points stay as they are; only missing ones run. The kill may truncate the last line.
      expect(pointsOf("killed").startsWith(kept)).toBe(true);
      kept = pointsOf("killed").replace(/[^\n]*$/, "");
      // As if the machine had stopped while it wrote a line.
      if (signal === "SIGINT") writeFileSync(join(folder, "killed", "fills.points"), "[110,[0,0.1", { flag: "a" });
    }
    const { code, text } = await study("killed").done;
    expect(code).toBe(0);
    expect(text).toMatch(/Going on: \d+ of 120 points are done/);
    expect(pointsOf("killed").startsWith(kept)).toBe(true);
    expect(bytesIn("killed")).toEqual(bytesIn("two"));
  }, 300_000);

  test("refuses to resume with the points of another study, and begins anew on request", async () => {
    const other = join(folder, "fills.yaml");
    writeFileSync(
      other,
      readFileSync(FILLS, "utf8").replace("../../../../scenarios", projectFile("scenarios")).replace("points: 120", "points: 5"),
    );
    const again = (...more: string[]) => program(["study", other, "--out", join(folder, "two"), ...more]).done;
    const refused = await again();
    expect(refused.code).toBe(2);
    expect(refused.text).toContain("the study or a file it names has changed since: begin anew with --anew");
    expect((await again("--anew", "--pages", "1")).code).toBe(0);
    // The best and the worst points have their own pages and scenario files.
    const page = readFileSync(join(folder, "two", "fills.html"), "utf8");
    const links = [...page.matchAll(/href="(fills-points\/point-\d\.html)"/g)].map(([, link]) => link);
    expect(links.length).toBe(2);
    for (const link of links) {
      expect(readFileSync(join(folder, "two", link), "utf8")).toContain("point");
      expect(readFileSync(join(folder, "two", link.replace(".html", ".yaml")), "utf8")).toMatch(/^ {2}water: \d+(?:\.\d+)? mm$/m);
    }
  }, 300_000);

  test("writes Parquet and CSV that other programs can read, with units and provenance", async () => {
    const file = await asyncBufferFromFile(join(folder, "one", "fills.parquet"));
    const metadata = await parquetMetadataAsync(file);
    const about = JSON.parse(metadata.key_value_metadata!.find(({ key }) => key === "sumpwright")!.value!);
    expect(about).toMatchObject({ name: "How full a sump may be", seed: "1", points: 120 });
    expect(about.program).toMatch(/^sumpwright 0\.1\.0\+[0-9a-f]{8}$/);
    expect(about.files.map(({ sha256 }: { sha256: string }) => sha256.length)).toEqual([64, 64]);
    expect(about.columns.find(({ name }: { name: string }) => name === "power cut margin")).toEqual({
      name: "power cut margin",
      unit: "m",
      meaning: "margin of a power cut with no fault",
    });
    const rows = (await parquetReadObjects({ file })) as readonly Record<string, number | string | null>[];
    expect(rows.length).toBe(120);
    expect(rows.map(({ point }) => point)).toEqual(rows.map((_, i) => i));
    const csv = readFileSync(join(folder, "one", "fills.csv"), "utf8").split("\r\n");
    expect(csv[0]).toBe(
      "point,sump level (mm),pump (L/h),power cut verdict,power cut margin (m),power cut floor (m3),blocked verdict,blocked margin (m),blocked floor (m3),failed",
    );
    const cells = csv[18].split(",");
    expect(cells[1]).toBe(String(rows[17]["sump level"]));
    expect(Number(cells[4])).toBeCloseTo(rows[17]["power cut margin"] as number, 6);
    // A higher sump level leaves less room at rest, whatever the pump.
    const low = rows.filter((row) => (row["sump level"] as number) < 165).map((row) => row["power cut margin"] as number);
    const high = rows.filter((row) => (row["sump level"] as number) > 190).map((row) => row["power cut margin"] as number);
    expect(Math.min(...low)).toBeGreaterThan(Math.max(...high));
  });
});
