// CO-3 (common practice, no published source) from the scenario file to the findings: a closed filter beside the tower,
// twenty hours without power.
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { EnsembleSetup } from "../../scenarios/model/members.ts";
import { nodePool } from "../../sim/ensemble/node-pool.ts";
import { figure, findingOf, resultOf } from "./told.ts";

const file = readFileSync(new URL("../../scenarios/shipped/canister-left-standing.yaml", import.meta.url), "utf8");
const changed = (from: string, to: string): string => {
  if (!file.includes(from)) throw new Error(`not in the file: ${from}`);
  return file.replace(from, to);
};
const planned = "closed filter: rinsed first }";

describe("CO-3: a closed filter beside the tower in an outage of twenty hours", async () => {
  const result = await resultOf(file);

  it("must not be restarted into the tank: open, smell, rinse in tank water first (fails if everything restarts)", () => {
    const { level, word, text, advice } = findingOf(result, "closed-filter-canister");
    expect([level, word]).toEqual(["watch", "RINSE FIRST"]);
    expect(text).toMatch(/do not let it start into the tank/);
    expect(text).toMatch(/open it, smell it, pour its water away, and rinse the media in tank water/);
    expect(text).toMatch(/Pull its plug before the power is back/);
    expect(advice).toMatch(/[Hh]ydrogen sulphide/);
    expect(result.aftermath.doNotRestart).toEqual([text]);
  });

  it("its clock: without oxygen within hours, at the latest within a day; sulphide later (a keeper's closed filter stank after four hours)", () => {
    const clock = result.outage.find(({ id }) => id === "closed-canister");
    expect(clock?.amberH?.[0]).toBeLessThan(5);
    expect(clock?.amberH?.[1]).toBeGreaterThan(4);
    expect(clock?.amberH?.[1]).toBeLessThan(24);
    expect(clock?.redH?.[0]).toBeGreaterThan(clock?.amberH?.[0] ?? Number.POSITIVE_INFINITY);
  });

  it("the finding of the planned outage names the action, and the hour of the clock agrees with that of the run", () => {
    const { text } = findingOf(result, "cut-");
    expect(text).toMatch(/Canister had no oxygen from hour .* and was rinsed first/);
    const why = result.outage.find(({ id }) => id === "closed-canister")?.why ?? "";
    expect(figure(why, /most likely after/)).toBeCloseTo(figure(text, /no oxygen from hour/), 0);
  });

  it("a short outage needs no such advice", async () => {
    const short = await resultOf(file.replaceAll("for: 20 h", "for: 1 h"));
    expect(findingOf(short, "closed-filter-canister")).toMatchObject({ level: "info", word: "START IT" });
    expect(short.aftermath.doNotRestart).toEqual([]);
  });

  it("a finding names the hoses: a disconnected one drains the tank to the intake (geometry)", () => {
    const { value, text } = findingOf(result, "hose-canister");
    // 1100 x 480 mm inside, intake 380 mm below the surface.
    expect(value).toBeCloseTo(1.1 * 0.48 * 0.38, 6);
    expect(text).toMatch(/on the floor/);
  });

  it("a rinse removes its solids and a little film, left off it stays stagnant, restarted it keeps both; nitrogen closes in all three", async () => {
    const restarted = await resultOf(changed(planned, "closed filter: restarted }"));
    const off = await resultOf(changed(planned, "closed filter: left off }"));
    for (const one of [result, restarted, off]) expect(one.nitrogen.ledger.imbalance).toBeLessThan(1e-8);
    const gone = (one: typeof result) => one.nitrogen.ledger.out.find(({ label }) => label === "closed filters rinsed")?.gN ?? 0;
    expect(gone(result)).toBeGreaterThan(0.05);
    expect([gone(restarted), gone(off)]).toEqual([0, 0]);
    const load = (one: typeof result) => one.nitrogen.surfaces.find(({ id }) => id === "canister media")?.loadGNPerDay ?? 0;
    expect(load(off)).toBeLessThan(0.1 * load(result));
    expect(load(restarted)).toBeGreaterThan(0.5 * load(result));
    expect(findingOf(restarted, "cut-").text).toMatch(/ran on with that water/);
  });

  it("it continues when only the return pump stops, because it has its own pump", async () => {
    const pumpOnly = await resultOf(
      changed(
        "for: 20 h, room temperature: 16 °C, stir every: 3 h, mist every: 4 h, closed",
        "for: 20 h, pump only: true, closed",
      ),
    );
    expect(findingOf(pumpOnly, "cut-").text).not.toMatch(/canister/);
  });

  it("HY-10 power back after two hours but the pump seized: no normal restart, every clock continues, the sump stays warm", async () => {
    const stuck = await resultOf(changed("for: 20 h, room", "for: 2 h, pump stuck: 10 h, room"));
    const { text, level } = findingOf(stuck, "cut-");
    expect(text).toMatch(/but the pump does not turn for another 10 hours/);
    // The heater holds the sump at 25 °C while the tank cools, so water of another temperature returns.
    expect(figure(text, /water of/)).toBeGreaterThan(figure(text, /into a tank of/) + 2);
    expect(level).not.toBe("info");
    const usual = await resultOf(changed("for: 20 h, room", "for: 2 h, room"));
    expect(findingOf(stuck, "cut-").value).toBeLessThan(findingOf(usual, "cut-").value ?? 0);
    expect(stuck.aftermath.checks[0]).toMatch(/Power back does not mean flow back/);
    expect(stuck.nitrogen.ledger.imbalance).toBeLessThan(1e-8);
  });

  it("connected to a sump chamber it works there, and its water counts in the system volume", async () => {
    const onSump = await resultOf(changed("on: tank\n", "on: pump side\n").replace("  intake: 380 mm\n", ""));
    const cells = onSump.nitrogen.cells.find(({ id }) => id === "canister");
    expect(cells?.volumeM3).toBeCloseTo(0.007, 12);
    expect(onSump.nitrogen.ledger.imbalance).toBeLessThan(1e-8);
    expect(onSump.defaults.map(({ key }) => key)).toContain("closed filter.intake");
  });

  it("bands with outages do not depend on the number of workers", { timeout: 60_000 }, async () => {
    const bandsWith = async (threads: number) => {
      const pool = nodePool<EnsembleSetup>(new URL("../../scenarios/run/worker.ts", import.meta.url), threads);
      try {
        return JSON.stringify((await resultOf(file, { members: 8, pool })).nitrogen.bands);
      } finally {
        await pool.close();
      }
    };
    const [one, two] = [await bandsWith(1), await bandsWith(2)];
    expect(one.length).toBeGreaterThan(1000);
    expect(two).toBe(one);
  });
});
