// Runs of the model compared with closed-form solutions of the same relations, to 0.1 %.

import { describe, expect, test } from "vitest";
import { airThroughHoleM3PerS, SHARP_HOLE } from "../../../models/hydraulics/laws/outlet.ts";
import { boreAreaM2, GRAVITY } from "../../../models/hydraulics/laws/pipe.ts";
import type { Link } from "../../../models/hydraulics/network/network.ts";
import { cutAndRestart } from "../../../models/hydraulics/outage/outage-simulation.ts";
import { levelsAfter, network, straight, tank, timeWhen } from "./networks.ts";
import { nozzle, returnLine, rigR } from "./rigs.ts";

const FRANCIS = 3.33 * Math.sqrt(0.3048);
const close = (value: number, exact: number) =>
  expect(Math.abs(value / exact - 1), `${value} against ${exact}`).toBeLessThan(1e-3);
const ends = { id: "link", name: "link", from: 0, to: 1 } as const;

describe("closed forms", () => {
  test("drawdown over a weir: t = 2 A / K (H2^-0.5 - H1^-0.5) (integral of A dH/dt = -K H^1.5)", () => {
    const rim: Link = { ...ends, kind: "rim", crestZ: 1, lengthM: 0.3 };
    const net = network([tank("tank", 0.6)], [rim]);
    const time = timeWhen(net, [1.013], 400, (levels) => levels[0] <= 1.002);
    close(time, ((2 * 0.6) / (FRANCIS * 0.3)) * (0.002 ** -0.5 - 0.013 ** -0.5));
  });

  test("a tank through a hole: t = 2 A (sqrt h1 - sqrt h2) / (Cd a sqrt 2g) (Torricelli)", () => {
    const areaM2 = 4e-4;
    const net = network([tank("tank", 0.5)], [{ ...ends, kind: "hole", areaM2, z: 0 }]);
    const time = timeWhen(net, [0.6], 1500, (levels) => levels[0] <= 0.1);
    close(time, (2 * 0.5 * (Math.sqrt(0.6) - Math.sqrt(0.1))) / (SHARP_HOLE * areaM2 * Math.sqrt(2 * GRAVITY)));
  });

  test("a tank through a full pipe with loss coefficient K: the same with Cd = 1 / sqrt K", () => {
    const pipe = straight(0, 25, 6);
    const link: Link = { ...ends, kind: "full pipe", pipe, count: 1, inletZ: 0, outletZ: -1, prime: -1 };
    const net = network([tank("up", 0.5, 0.5), tank("low", 1e7, -5)], [link]);
    const time = timeWhen(net, [1.1, -0.2], 2000, (levels) => levels[0] <= 0.6);
    // The end is free at -1 m but below the lower water level of -0.2 m: the head is the difference of levels.
    close(time, (2 * 0.5 * Math.sqrt(6) * (Math.sqrt(1.3) - Math.sqrt(0.8))) / (boreAreaM2(0.025) * Math.sqrt(2 * GRAVITY)));
  });

  test("two vessels equalising through a gap: t = 2 Aab (sqrt d1 - sqrt d2) / (Cd a sqrt 2g), Aab = A B / (A + B)", () => {
    const link: Link = { ...ends, kind: "gap", widthM: 0.02, gapM: 0.05 };
    const net = network([tank("a", 0.2), tank("b", 0.1)], [link]);
    const time = timeWhen(net, [0.5, 0.2], 60, (levels) => levels[0] - levels[1] <= 0.1);
    const joint = (0.2 * 0.1) / 0.3;
    close(time, (2 * joint * (Math.sqrt(0.3) - Math.sqrt(0.1))) / (SHARP_HOLE * 0.001 * Math.sqrt(2 * GRAVITY)));
    // In the end both have the same level.
    const met = levelsAfter(net, [0.5, 0.2], 600);
    expect(met[0]).toBeCloseTo(0.4, 6);
    expect(met[1]).toBeCloseTo(0.4, 6);
  });

  test("back-siphon until the break hole is uncovered: t = 2 Aab sqrt K (sqrt h1 - sqrt h2) / (a sqrt 2g) for a line with constant loss coefficients", () => {
    const holeZ = 1.185;
    const still = rigR(0.2);
    // Without weir, drain and friction, one constant loss coefficient between two straight-walled vessels remains.
    const rig = {
      ...still,
      displays: still.displays.map((display) => ({
        ...display,
        overflows: display.overflows.map((overflow) => ({ ...overflow, weirLengthM: 1e-7 })),
      })),
      return: returnLine({
        pump: {
          ...still.return.pump,
          curve: [
            [0, 1.05],
            [1e-4, 1.0],
            [2e-4, 0.1],
          ] as [number, number][],
        },
        riser: { ...still.return.riser, lengthM: 0.001 },
        nozzles: [nozzle({ tipZ: 1.1, breakHole: { diameterM: 0.004, z: holeZ, count: 1 } })],
      }),
    };
    const story = cutAndRestart(rig, { keepTrace: false, follow: false });
    const { cut, running } = story;
    const took = cut.events.find((event) => event.id === "hole nozzle")!.tS;
    const h1 = running.levelsZ.display - running.levelsZ.sump;
    const fall = running.levelsZ.display - (holeZ + 0.002);
    const h2 = h1 - fall * (1 + 0.6 / 0.27);
    const lossK = lossOf(rig);
    const joint = (0.6 * 0.27) / 0.87;
    close(took, (2 * joint * Math.sqrt(lossK) * (Math.sqrt(h1) - Math.sqrt(h2))) / (boreAreaM2(0.025) * Math.sqrt(2 * GRAVITY)));
  });

  test("air through a 4 mm hole under 100 mm of suction: Bernoulli for air at 1.204 kg/m3", () => {
    close(airThroughHoleM3PerS(0.1, boreAreaM2(0.004)), 0.61 * boreAreaM2(0.004) * Math.sqrt((2 * 9806.65 * 0.1) / 1.204));
  });
});

/**
 * Sum of the return line's loss coefficients for reverse flow, from the parts: nozzle 0.78, idle pump 10 + 1, valve
 * 0.178, bends, union.
 */
function lossOf(rig: ReturnType<typeof rigR>): number {
  const size = 0.025 / 0.0254;
  const bend = 800 / 5e4 + 0.14 * (1 + 4 / size ** 0.3);
  return (
    0.78 + rig.return.pump.idleK + 1 + 0.178 + rig.return.riser.fittings.bends90 * bend + rig.return.riser.fittings.unions * 0.08
  );
}
