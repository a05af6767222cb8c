// A siphon drain that has taken in air refills only where its flow is fast enough to carry the air out.
import { describe, expect, it } from "vitest";
import { HydraulicSystem } from "../../../models/hydraulics/dynamics/system.ts";
import { clearingVelocityMPerS, standpipeInletM3PerS } from "../../../models/hydraulics/laws/outlet.ts";
import { boreAreaM2 } from "../../../models/hydraulics/laws/pipe.ts";
import type { DrainPipe } from "../../../models/hydraulics/network/network.ts";
import { network, tank } from "./networks.ts";

const BORE_M = 0.025;
const INLET_Z = 1;

/** A box over a sump, connected by a parted drain; the loss coefficient determines its full-pipe velocity. */
function partedDrain(lossK: number, headM: number, mouthBoreM = BORE_M) {
  const base = network([tank("box", 0.1, 0.9), tank("pipe", 0.001, 0.3), tank("sump", 1, 0)], []);
  const drain: DrainPipe = {
    id: "main",
    overflowId: "overflow",
    kind: "throttled siphon",
    box: 0,
    pipeVessel: 1,
    to: 2,
    mouthBoreM,
    pipe: { lengthM: 0.6, boreM: BORE_M, lossK, roughnessM: 1.5e-6 },
    inletZ: INLET_Z,
    outletZ: 0.4,
    inletLink: 0,
    outletLink: 1,
  };
  const end = { name: "drain", drain: 0 };
  const system = new HydraulicSystem({
    ...base,
    drains: [drain],
    links: [
      { ...end, id: "in", kind: "drain inlet", from: 0, to: 1 },
      { ...end, id: "out", kind: "drain outlet", from: 1, to: 2 },
    ],
  });
  system.modes.drainFull[0] = 0;
  system.levels.set([INLET_Z + headM, 0.5, 0.2, 0]);
  const volumes = Float64Array.of(0.01, 1e-4, 0.2, 0);
  system.drainFlow(0, volumes);
  const whole = system.fullDrainFlow(drain, INLET_Z + headM);
  return { inflow: system.flows[0], whole, mouth: standpipeInletM3PerS(headM, mouthBoreM), speed: whole / boreAreaM2(BORE_M) };
}

describe("a parted siphon drain", () => {
  // Heads of two bores and more submerge the mouth.
  it("draws the full-pipe flow where its velocity is well above the clearing velocity (Wisner, Mohsen & Kouwen 1975)", () => {
    const { inflow, whole, mouth, speed } = partedDrain(2, 3 * BORE_M);
    expect(speed).toBeGreaterThan(1.5 * clearingVelocityMPerS(BORE_M));
    expect(whole).toBeGreaterThan(mouth);
    expect(inflow).toBeCloseTo(whole, 12);
  });

  it("draws only the flow of its half-blocked mouth where a throttle keeps the velocity below the clearing velocity", () => {
    const { inflow, whole, mouth, speed } = partedDrain(60, 3 * BORE_M, 0.4 * BORE_M);
    expect(speed).toBeLessThan(clearingVelocityMPerS(BORE_M));
    expect(whole).toBeGreaterThan(2 * mouth);
    expect(inflow).toBeCloseTo(mouth, 12);
  });

  it("draws only the weir flow over its mouth while air enters with the water, whatever its full-pipe velocity", () => {
    const { inflow, mouth, speed } = partedDrain(2, 0.9 * BORE_M);
    expect(speed).toBeGreaterThan(1.5 * clearingVelocityMPerS(BORE_M));
    expect(inflow).toBeCloseTo(mouth, 12);
  });
});
