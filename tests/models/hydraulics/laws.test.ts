// Properties of the relations: inverses agree, flows are odd and monotone, softened relations stay within their stated error.

import { describe, expect, test } from "vitest";
import { obstructionK } from "../../../models/hydraulics/laws/fittings.ts";
import { levelCurve, levelZ, volumeBelowM3 } from "../../../models/hydraulics/laws/level-curve.ts";
import { airCarriedM3PerS, openingFlowM3PerS, standpipeInletM3PerS } from "../../../models/hydraulics/laws/outlet.ts";
import {
  boreAreaM2,
  frictionFactor,
  GRAVITY,
  type Pipe,
  pipeFlowM3PerS,
  pipeLossM,
} from "../../../models/hydraulics/laws/pipe.ts";
import { pumpCurve } from "../../../models/hydraulics/laws/pump.ts";
import {
  kindsvaterCarterM3PerS,
  twoSidedWeirM3PerS,
  villemonte,
  weirFlowM3PerS,
  weirHeadM,
  weirHeadUncertaintyM,
} from "../../../models/hydraulics/laws/weir.ts";
import fc from "../../fast-check.ts";

const pipes: fc.Arbitrary<Pipe> = fc.record({
  boreM: fc.double({ min: 0.008, max: 0.08, noNaN: true }),
  lengthM: fc.double({ min: 0, max: 10, noNaN: true }),
  roughnessM: fc.constantFrom(1.5e-6, 1e-5, 1e-4),
  lossK: fc.double({ min: 0.5, max: 200, noNaN: true }),
});
const NU = 9e-7;

describe("pipes", () => {
  test("the flow under a head has that head loss, to 1e-6, from very small heads to four metres", () => {
    fc.assert(
      fc.property(pipes, fc.double({ min: -9, max: 0.6, noNaN: true }), (pipe, exponent) => {
        const head = 10 ** exponent;
        const flow = pipeFlowM3PerS(pipe, head, NU);
        const reynolds = ((flow / boreAreaM2(pipe.boreM)) * pipe.boreM) / NU;
        // Where the friction of the transition region falls with flow, two flows have the same head loss, so only the
        // head is compared.
        expect(Math.abs(pipeLossM(pipe, flow, NU) / head - 1), `Re ${reynolds}`).toBeLessThan(1e-6);
        expect(pipeFlowM3PerS(pipe, -head, NU)).toBe(-flow);
      }),
      // A wall so short that it has next to no friction, beside fittings that have much.
      { numRuns: 500, examples: [[{ boreM: 0.008, lengthM: 1e-26, roughnessM: 0, lossK: 200 }, -9]] },
    );
  });

  test("fittings are softened by 2 % at 0.1 m/s and 0.02 % at 1 m/s, as stated", () => {
    const pipe: Pipe = { boreM: 0.025, lengthM: 0, roughnessM: 0, lossK: 3 };
    for (const [velocity, error] of [
      [0.1, 0.0201],
      [1, 2.1e-4],
    ]) {
      const loss = pipeLossM(pipe, velocity * boreAreaM2(0.025), NU);
      const exact = (3 * velocity ** 2) / (2 * GRAVITY);
      expect(loss / exact - 1).toBeGreaterThan(0);
      expect(loss / exact - 1).toBeLessThan(error);
    }
  });

  test("friction is continuous at Re 2000 and 4000", () => {
    for (const edge of [2000, 4000])
      expect(Math.abs(frictionFactor(edge * (1 + 1e-9), 6e-5) / frictionFactor(edge * (1 - 1e-9), 6e-5) - 1)).toBeLessThan(1e-3);
  });

  test("an open valve has no loss, and the loss increases as it closes", () => {
    expect(obstructionK(1)).toBeCloseTo(0, 12);
    let last = 0;
    for (const share of [0.9, 0.7, 0.5, 0.3, 0.05]) {
      expect(obstructionK(share)).toBeGreaterThan(last);
      last = obstructionK(share);
    }
  });
});

describe("weirs", () => {
  test("head and flow are inverses", () => {
    for (const head of [0.002, 0.013, 0.05]) expect(weirHeadM(weirFlowM3PerS(head, 0.3, 2), 0.3, 2)).toBeCloseTo(head, 9);
  });

  test("the common figure of practice: 13 mm for 3000 L/h over 500 mm at 60 % open (common practice, no published source)", () => {
    expect(Math.abs(weirHeadM(3 / 3600, 0.3, 0) - 0.013)).toBeLessThan(5e-4);
  });

  test("under 30 mm the uncertainty includes the head by Kindsvater & Carter (1957)", () => {
    for (const head of [0.005, 0.013, 0.025]) {
      const flow = weirFlowM3PerS(head, 0.3, 0);
      let low = 0;
      let high = head;
      while (high - low > 1e-7) {
        const middle = (low + high) / 2;
        if (kindsvaterCarterM3PerS(middle, 0.3, 0.3) > flow) high = middle;
        else low = middle;
      }
      expect(head - low).toBeGreaterThan(0);
      expect(head - low).toBeLessThanOrEqual(weirHeadUncertaintyM(head));
    }
    expect(weirHeadUncertaintyM(0.031)).toBe(0);
  });

  test("the softened submerged weir is within its stated error of Villemonte (1947), and odd", () => {
    for (const ratio of [0.2, 0.4, 0.6]) expect(Math.abs(villemonte(ratio, 0.03) / villemonte(ratio) - 1)).toBeLessThan(1.1e-3);
    expect(Math.abs(villemonte(0.9, 0.03) / villemonte(0.9) - 1)).toBeLessThan(0.02);
    expect(twoSidedWeirM3PerS(1.05, 1.03, 1, 0.3, 0)).toBe(-twoSidedWeirM3PerS(1.03, 1.05, 1, 0.3, 0));
    expect(twoSidedWeirM3PerS(1.05, 1.05, 1, 0.3, 0)).toBeCloseTo(0, 15);
  });
});

describe("outlets", () => {
  test("an opening is 16 % low at 2 mm and 1 % at 10 mm, as stated, and odd", () => {
    const exact = (head: number) => 0.61 * 1e-3 * Math.sqrt(2 * GRAVITY * head);
    expect(openingFlowM3PerS(0.002, 1e-3) / exact(0.002)).toBeCloseTo(2 ** -0.25, 9);
    expect(openingFlowM3PerS(0.01, 1e-3) / exact(0.01)).toBeGreaterThan(0.99);
    expect(openingFlowM3PerS(-0.01, 1e-3)).toBe(-openingFlowM3PerS(0.01, 1e-3));
  });

  test("the flow into a standpipe never decreases with head", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 0.2, noNaN: true }), fc.double({ min: 0, max: 0.05, noNaN: true }), (head, more) => {
        expect(standpipeInletM3PerS(head + more, 0.032)).toBeGreaterThanOrEqual(standpipeInletM3PerS(head, 0.032));
      }),
    );
  });

  test("a slow flow carries no air", () => {
    expect(airCarriedM3PerS(0.4 * boreAreaM2(0.025), 0.025)).toBe(0);
    expect(airCarriedM3PerS(1.5 * boreAreaM2(0.025), 0.025)).toBeGreaterThan(0);
  });
});

describe("pump curves", () => {
  test("flow and head are inverses and fall together, for three points and for more", () => {
    for (const points of [
      [
        [0, 3.2],
        [0.0006, 2.4],
        [0.001, 0.9],
      ],
      [
        [0, 3.2],
        [0.0003, 3.0],
        [0.0006, 2.4],
        [0.0008, 1.6],
        [0.0011, 0],
      ],
    ] as [number, number][][]) {
      const pump = pumpCurve(points);
      let last = Number.POSITIVE_INFINITY;
      for (let head = 0.05; head < 3.15; head += 0.05) {
        const flow = pump.flowM3PerS(head);
        expect(flow).toBeLessThan(last);
        expect(pump.headM(flow)).toBeCloseTo(head, 6);
        last = flow;
      }
      expect(pump.flowM3PerS(3.3)).toBe(0);
      for (const [flow, head] of points.slice(1, -1)) expect(pump.flowM3PerS(head)).toBeCloseTo(flow, 9);
    }
  });

  test("refuses invalid curves", () => {
    expect(() => pumpCurve([[0, 3]])).toThrow(/two points/);
    expect(() =>
      pumpCurve([
        [0, 3],
        [0, 2],
      ]),
    ).toThrow(/ascend/);
    expect(() =>
      pumpCurve([
        [0, 3],
        [0.001, 3],
      ]),
    ).toThrow(/fall/);
  });
});

describe("levels", () => {
  test("level and volume are inverses through displaced parts", () => {
    const curve = levelCurve(0.9, 0.5, [
      { fromM: 0, toM: 0.1, areaM2: 0.2 },
      { fromM: 0.05, toM: 0.3, areaM2: 0.1 },
    ]);
    fc.assert(
      fc.property(fc.double({ min: 0.9, max: 1.5, noNaN: true }), (z) => {
        expect(levelZ(curve, volumeBelowM3(curve, z))).toBeCloseTo(z, 12);
      }),
    );
    expect(() => levelCurve(0, 0.5, [{ fromM: 0, toM: 1, areaM2: 0.5 }])).toThrow(/no room/);
  });
});
