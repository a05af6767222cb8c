// Results stored in a page can be restored: rounded no coarser than they are printed, with shared parts in place.
import { describe, expect, it } from "vitest";
import { packResults, unpackResults } from "../../viz/packed.ts";
import { fixtureResult } from "./fixture.ts";

describe("results in a page", () => {
  const first = fixtureResult();
  const second = { ...fixtureResult("later", 9), name: "Later" };
  const [one, two] = unpackResults(packResults([first, second]));

  it("are restored with every part, shared parts included", () => {
    expect(Object.keys(two!).sort()).toEqual(Object.keys(second).sort());
    expect(two!.name).toBe("Later");
    expect(two!.hydraulics).toEqual(one!.hydraulics);
    expect(two!.findings).toEqual(second.findings);
  });

  it("keep three figures of curves, four where the axis does not begin at zero, and hundredths of a millimetre of a level", () => {
    for (const series of first.nitrogen.series) {
      const back = one!.nitrogen.series.find((s) => s.id === series.id)!;
      const step = ["ph", "temperature"].includes(series.panel) ? 0.5e-3 : 0.5e-2;
      series.values.forEach((v, i) => {
        if (v !== null) expect(Math.abs(back.values[i]! - v)).toBeLessThanOrEqual(step * Math.abs(v) + 1e-12);
      });
    }
    const [story] = first.hydraulics.stories;
    for (const [v, vessel] of story!.vessels.entries())
      vessel.levelZ.forEach((z, i) => {
        expect(Math.abs(one!.hydraulics.stories[0]!.vessels[v]!.levelZ[i]! - z)).toBeLessThanOrEqual(0.5e-5 + 1e-12);
      });
  });

  it("store shared parts only once", () => {
    expect(packResults([first, { ...first, name: "Twin" }]).length).toBeLessThan(packResults([first]).length + 100);
  });
});
