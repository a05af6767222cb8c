// Numbers of builders and of the texts of the faults, each compared with what the model does.
import { describe, expect, it } from "vitest";
import { checkValveK, ENTRANCE_REENTRANT, obstructionK } from "../../../models/hydraulics/laws/fittings.ts";
import { filmDrainM3PerS } from "../../../models/hydraulics/laws/outlet.ts";
import { boreAreaM2, colebrook, dunlopTransition, frictionFactor, pipeLossM } from "../../../models/hydraulics/laws/pipe.ts";
import { weirFlowM3PerS } from "../../../models/hydraulics/laws/weir.ts";
import { buildNetwork } from "../../../models/hydraulics/network/from-rig.ts";
import type { Link } from "../../../models/hydraulics/network/network.ts";
import { DRIP_HOLE, faultsFor, withFaults } from "../../../models/hydraulics/outage/faults.ts";
import { runningState } from "../../../models/hydraulics/outage/outage-simulation.ts";
import { fitAndLoad } from "../../../models/hydraulics/planning/cabinet-fit.ts";
import { sizingChecks } from "../../../models/hydraulics/planning/sizing.ts";
import type { FaultId } from "../../../models/hydraulics/types.ts";
import type { Prefilter, Rig } from "../../../models/rig.ts";
import { liquidAt } from "../../../models/water/liquid.ts";
import { handFilled75, hangOn55, holiday, rigR, threeChambers, towerOverSump, twoDrains } from "./rigs.ts";

const PAD: Prefilter = { areaM2: 0.06, thicknessM: 0.03, grade: "fine", blindedShare: 0, spillsTo: "media" };

/** The first number in the text of a fault, in metres, shares or square metres. */
function said(rig: Rig, id: FaultId, pattern: RegExp): number {
  const { changes } = faultsFor(rig).find((fault) => fault.id === id)!;
  return Number(pattern.exec(changes)![1]);
}

describe("each fault changes what its text says", () => {
  const rig = rigR();
  const broken = (of: Rig, id: FaultId): Rig => withFaults(of, [id]).broken;

  it("30 mm too full, 15 mm over the intake, an outlet 100 mm deeper", () => {
    expect(broken(rig, "overfilled").sump.runningLevelM - rig.sump.runningLevelM).toBeCloseTo(
      said(rig, "overfilled", /level (\d+) mm/) / 1000,
      9,
    );
    const full = { ...rig, sump: { ...rig.sump, runningLevelM: rig.sump.heightM - 0.01 } };
    expect(full.sump.heightM - broken(full, "overfilled").sump.runningLevelM).toBeCloseTo(
      said(rig, "overfilled", /most (\d+) mm/) / 1000,
      9,
    );
    expect(broken(rig, "evaporated").sump.runningLevelM - rig.return.pump.intakeM).toBeCloseTo(
      said(rig, "evaporated", /level (\d+) mm/) / 1000,
      9,
    );
    const [was] = rig.return.nozzles;
    const [now] = broken(rig, "nozzle knocked down").return.nozzles;
    const deeper = said(rig, "nozzle knocked down", /nozzle (\d+) mm/) / 1000;
    expect(was.tipZ - now.tipZ).toBeCloseTo(deeper, 9);
    expect(was.breakHole!.z - now.breakHole!.z).toBeCloseTo(deeper, 9);
  });

  it("35 % of the weir, 97 % of the pad, 15 % of the drip holes", () => {
    const tower = towerOverSump();
    const padded = {
      ...tower,
      towers: tower.towers.map((t) => ({
        ...t,
        prefilter: PAD,
      })),
    };
    const share = (of: Rig) => of.displays[0].overflows[0].openShare;
    expect(share(broken(rig, "weir matted")) / share(rig)).toBeCloseTo(said(rig, "weir matted", /^(\d+) %/) / 100, 9);
    expect(broken(padded, "prefilter blinded").towers[0].prefilter!.blindedShare).toBeCloseTo(
      said(padded, "prefilter blinded", /^(\d+) %/) / 100,
      9,
    );
    expect(broken(tower, "tray clogged").towers[0].tray.holes / tower.towers[0].tray.holes).toBeCloseTo(
      said(tower, "tray clogged", /^(\d+) %/) / 100,
      9,
    );
  });

  it("a valve 3 % open at the restart, a seam of 10 mm2 some millimetres over the floor of the box, a drip of 2 mm (modelling assumptions)", () => {
    const { atRestart } = withFaults(rig, ["valve left closed"]);
    expect(atRestart.return.valveOpenShare).toBeCloseTo(said(rig, "valve left closed", /^(\d+) %/) / 100, 9);
    const inside = {
      ...rig,
      displays: rig.displays.map((d) => ({
        ...d,
        overflows: d.overflows.map((o) => ({ ...o, box: { ...o.box, inside: true } })),
      })),
    };
    const boxed = rig.displays[0].overflows[0];
    const { leak } = broken(inside, "box seam leaks").displays[0].overflows[0];
    expect(leak!.areaM2 * 1e6).toBeCloseTo(10, 6);
    expect(leak!.z - boxed.box.floorZ).toBeCloseTo(0.005, 6);
    expect(DRIP_HOLE).toEqual({ diameterM: 0.002, heightM: 0.1 });
  });
});

describe("how likely a fault is", () => {
  it("everyday ones are those that keepers and builders name first: blocked hole, grit in the valve, overfilled, not topped up, a leaf in the drain or on the weir, a clogged pad, lost prime, an emptied reservoir (common practice, no published source)", () => {
    const everyday = (of: Rig) =>
      faultsFor(of)
        .filter(({ ordinary }) => ordinary === 3)
        .map(({ id }) => id);
    const tower = towerOverSump();
    const padded = { ...tower, towers: tower.towers.map((t) => ({ ...t, prefilter: PAD })) };
    expect(everyday(padded)).toEqual([
      "break hole blocked",
      "overfilled",
      "evaporated",
      "drain half blocked",
      "prefilter blinded",
      "weir matted",
    ]);
    expect(everyday(handFilled75("seals"))).toContain("check valve leaks");
    expect(everyday(hangOn55(5))).toContain("siphon lost prime");
    expect(everyday(hangOn55(5))).toContain("reservoir dumped");
    // Others need a mishap, and some a rare one.
    expect(
      faultsFor(rigR())
        .filter(({ ordinary }) => ordinary === 1)
        .map(({ id }) => id),
    ).toEqual(["valve left closed"]);
  });
});

describe("published losses", () => {
  it("friction between Re 2000 and 4000 is more than that of laminar flow (Dunlop 1991): 0.0331 at 3000 in a smooth pipe", () => {
    expect(frictionFactor(1900, 0)).toBeCloseTo(64 / 1900, 9);
    expect(frictionFactor(2300, 0) * 2300).toBeGreaterThan(66);
    expect(frictionFactor(3000, 0)).toBeCloseTo(dunlopTransition(3000, 0), 2);
    expect(frictionFactor(4100, 0) / colebrook(4100, 0)).toBeCloseTo(1, 9);
  });

  it("a plate in a pipe: 226 at a tenth open, 18 at 0.3, 4.0 at half, 2.0 at 0.6 (Idelchik, thin orifice, (1 + 0.707 sqrt(1 - s) - s)^2 / s^2, from memory)", () => {
    for (const share of [0.1, 0.3, 0.5, 0.6]) {
      const idelchik = ((1 + Math.SQRT1_2 * Math.sqrt(1 - share) - share) / share) ** 2;
      expect(obstructionK(share) / idelchik, `${share}`).toBeGreaterThan(0.9);
      expect(obstructionK(share) / idelchik, `${share}`).toBeLessThan(1.1);
    }
  });

  it("a swing check valve: 100 fT, with Crane's table of fT: 0.023 at 1 in, 0.019 at 2 in", () => {
    expect(checkValveK(1.049 * 0.0254)).toBeCloseTo(2.3, 1);
    expect(checkValveK(2.067 * 0.0254)).toBeCloseTo(1.9, 1);
  });

  it("Francis with two end contractions: a weir of 300 mm under 50 mm of head passes 1.838 x (0.3 - 0.2 x 0.05) x 0.05^1.5", () => {
    expect(weirFlowM3PerS(0.05, 0.3, 2) / (1.838 * 0.29 * 0.05 ** 1.5)).toBeCloseTo(1, 3);
  });

  it("a bed of 1100 m2/m3 of which 0.080 is moving water lets out 1.254 m/h (the published bed hold-up, backwards)", () => {
    const { viscosityPaS, densityKgPerM3 } = liquidAt(21, 0);
    const perHour = 3600 * filmDrainM3PerS(0.08, 1, 1100, viscosityPaS / densityKgPerM3);
    expect(perHour / 1.254).toBeGreaterThan(0.95);
    expect(perHour / 1.254).toBeLessThan(1.05);
  });
});

describe("how a rig is put together", () => {
  it("drain pipes have an entrance of 0.5 and an exit of 1 beside their fittings; hang-on tubes 0.78 and 1 (Crane TP-410)", () => {
    const [pipe] = buildNetwork(twoDrains(), new Map()).drains.map((one) => one.pipe);
    expect(pipe.lossK).toBeCloseTo(0.5 + 1, 6);
    expect(ENTRANCE_REENTRANT).toBe(0.78);
  });
});

describe("running figures", () => {
  it("turnover is flow over all the water, by the hour; a vented pipe of 2 in takes 2^(8/3) times that of 1 in", () => {
    const { pump, systemVolumeM3, turnoverPerHour } = runningState(rigR());
    expect(turnoverPerHour).toBeCloseTo((3600 * pump.flowM3PerS) / systemVolumeM3, 9);
    const vented = (boreM: number) => {
      const rig = holiday(0.02);
      const open = {
        ...rig,
        displays: rig.displays.map((d) => ({
          ...d,
          overflows: d.overflows.map((o) => ({ ...o, drains: [{ ...o.drains[0], kind: "open" as const, boreM }] })),
        })),
      };
      return sizingChecks(open).find(({ id }) => id === "vented drains")!.have;
    };
    expect(vented(0.0508) / vented(0.0254)).toBeCloseTo(2 ** (8 / 3), 6);
  });

  it("a pipe at Re 2400 loses by the friction of its transition, more than a laminar stream", () => {
    const pipe = { boreM: 0.02, lengthM: 5, roughnessM: 0, lossK: 0 };
    const nu = 1e-6;
    const speed = (2400 * nu) / pipe.boreM;
    const loss = pipeLossM(pipe, speed * boreAreaM2(pipe.boreM), nu);
    const per = (f: number) => (f * pipe.lengthM * speed * speed) / pipe.boreM / (2 * 9.80665);
    expect(loss / per(frictionFactor(2400, 0))).toBeCloseTo(1, 6);
    expect(loss).toBeGreaterThan(1.02 * per(64 / 2400));
  });
});

describe("parts of a tower", () => {
  const tower = towerOverSump();
  const padded = { ...tower, towers: tower.towers.map((t) => ({ ...t, prefilter: PAD })) };
  const padOf = (pad: Prefilter) =>
    buildNetwork({ ...padded, towers: padded.towers.map((t) => ({ ...t, prefilter: pad })) }, new Map()).links.find(
      ({ kind }) => kind === "pad",
    ) as Extract<Link, { kind: "pad" }>;

  it("clean pads let through 100, 40 or 15 mm/s under a head of their own depth, by their grade; half of it when half blinded (modelling assumptions)", () => {
    for (const [grade, mPerS] of [
      ["coarse", 0.1],
      ["medium", 0.04],
      ["fine", 0.015],
    ] as const) {
      const { conductanceM2PerS } = padOf({ ...PAD, grade });
      expect(conductanceM2PerS * PAD.thicknessM).toBeCloseTo(mPerS * PAD.areaM2, 9);
      expect(padOf({ ...PAD, grade, blindedShare: 0.5 }).conductanceM2PerS).toBeCloseTo(conductanceM2PerS / 2, 9);
    }
  });

  it("stand 20 mm apart, and a pan spills 50 mm over its pad (modelling assumptions)", () => {
    const { vessels } = buildNetwork(padded, new Map());
    const [t] = padded.towers;
    const of = (kind: string) => vessels.find((vessel) => vessel.kind === kind)!;
    expect(of("tray").bottomZ - (t.grateZ + t.mediaDepthM)).toBeCloseTo(0.02, 9);
    expect(of("prefilter").bottomZ - (of("tray").bottomZ + t.tray.depthM)).toBeCloseTo(0.02, 9);
    expect(of("prefilter").rimZ! - (of("prefilter").bottomZ + PAD.thicknessM)).toBeCloseTo(0.05, 9);
  });

  it("a seam of 10 mm2 is a round hole of 3.57 mm with the loss of a sharp edge", () => {
    const leaking = {
      ...tower,
      displays: tower.displays.map((d) => ({
        ...d,
        overflows: d.overflows.map((o) => ({ ...o, leak: { areaM2: 1e-5, z: o.box.floorZ + 0.01, to: "box" as const } })),
      })),
    };
    const seam = buildNetwork(leaking, new Map()).links.find(({ id }) => id.startsWith("seam")) as Extract<
      Link,
      { kind: "full pipe" }
    >;
    expect(seam.pipe.boreM).toBeCloseTo(0.00357, 5);
    expect(seam.pipe.lossK).toBeCloseTo(1 / 0.61 ** 2, 9);
  });
});

describe("rims", () => {
  it("of a sump's chambers together are as long as the sump is round, whether it has one chamber or three", () => {
    for (const rig of [rigR(), threeChambers()]) {
      const { links, vessels } = buildNetwork(rig, new Map());
      const around = links.reduce(
        (sum, link) => sum + (link.kind === "rim" && vessels[link.from].kind === "chamber" ? link.lengthM : 0),
        0,
      );
      const length = rig.sump.chambers.reduce((sum, { lengthM }) => sum + lengthM, 0);
      expect(around).toBeCloseTo(2 * (length + rig.sump.widthM), 9);
    }
  });
});

describe("masses and room", () => {
  const base = towerOverSump();
  const cabinet = { lengthM: 0.8, widthM: 0.45, heightM: 1.1, doorWidthM: 0.5, doorHeightM: 0.45 };
  const rig: Rig = {
    ...base,
    cabinet,
    displays: base.displays.map((d) => ({ ...d, displacements: [{ fromM: 0, toM: 0.05, areaM2: 0.1 }] })),
    towers: base.towers.map((t) => ({
      ...t,
      prefilter: PAD,
    })),
  };
  const load = fitAndLoad(rig);
  const kg = (part: string) => load.masses.find((one) => one.part === part)!.kg;

  it("glass 2500, acrylic 1190, rock 2600 and plastic media 950 kg/m3 (handbook densities)", () => {
    const [d] = rig.displays;
    const glass = d.glassM * (d.lengthM * d.widthM + 2 * d.heightM * (d.lengthM + d.widthM + 2 * d.glassM));
    expect(kg("display walls")).toBeCloseTo(2500 * glass, 6);
    const acrylic = fitAndLoad({ ...rig, sump: { ...rig.sump, wallMaterial: "acrylic" } });
    expect(acrylic.masses.find(({ part }) => part === "sump walls")!.kg / kg("sump walls")).toBeCloseTo(1190 / 2500, 9);
    expect(kg("rock and gravel")).toBeCloseTo(2600 * 0.1 * 0.05, 9);
    expect(kg("media")).toBeCloseTo(950 * 0.25 * 0.25 * 0.3 * 0.08, 9);
  });

  it("150 mm for hands over the sump, 100 mm to lift the pad out (common practice)", () => {
    const spare = (part: string) => load.fit.find((one) => one.part.startsWith(part))!.spareM;
    expect(spare("hand room")).toBeCloseTo(1.1 - (rig.sump.heightM + rig.sump.glassM) - 0.15, 9);
    expect(spare("height of") - spare("lifting")).toBeCloseTo(0.1, 9);
    // Grate 200, media 300, tray 60, pad 30 mm and its rim of 50; 20 mm of air under tray and pad.
    expect(spare("height of")).toBeCloseTo(1.1 - rig.sump.glassM - (0.2 + 0.3 + 0.02 + 0.06 + 0.02 + 0.03 + 0.05), 9);
  });

  it("rules of thumb: room for 3/4 in of every tank, 3 to 10 volumes an hour, a quarter of the tank, 2 % a day, 150 mm, 600 US gal/h for a vented inch, 80 % of the label", () => {
    const open = {
      ...holiday(0.02),
      cabinet,
      displays: holiday(0.02).displays.map((d) => ({
        ...d,
        overflows: d.overflows.map((o) => ({ ...o, drains: [{ ...o.drains[0], kind: "open" as const, boreM: 0.0254 }] })),
      })),
    };
    const checks = new Map(sizingChecks(open).map((check) => [check.id, check]));
    const want = (id: string) => checks.get(id)!.want;
    expect([want("turnover"), want("sump share"), want("evaporation"), want("hand room"), want("label flow")]).toEqual([
      3, 0.25, 0.02, 0.15, 0.8,
    ]);
    expect(checks.get("reserve")!.want).toBeCloseTo(0.75 * 0.0254 * open.displays[0].lengthM * open.displays[0].widthM, 9);
    expect(checks.get("vented drains")!.have * 3600 * 264.172).toBeCloseTo(600, 0);
  });
});
