// The network solver compared with EPANET 2.3.5 (runs recorded in epanet_runs.csv: Darcy-Weisbach with Swamee-Jain, 1 s
// explicit level steps). Flows within 1 %, steady heads and levels within 2 mm, or the row's own tolerance where
// EPANET's time step causes a larger difference.

import { describe, expect, test } from "vitest";
import { HydraulicSystem } from "../../../models/hydraulics/dynamics/system.ts";
import { runStage } from "../../../models/hydraulics/dynamics/transient.ts";
import type { Link, Network, ReturnLine, Vessel } from "../../../models/hydraulics/network/network.ts";
import { type ReferenceRow, referenceRows } from "../../data/reference-rows.ts";
import { compared } from "../../validation/compared.ts";
import { network, straight, tank } from "./networks.ts";

const LPM = 1 / 60000;
/** Kinematic viscosity in EPANET: 1.1e-5 ft²/s. */
const NU = 1.0219e-6;
const LAKE_M2 = 1e7;
const C1: [number, number][] = [
  [0, 3.2],
  [35 * LPM, 2.4],
  [60 * LPM, 0.9],
];
const C2: [number, number][] = [
  [0, 4.5],
  [60 * LPM, 3.5],
  [110 * LPM, 1.2],
];
const rows = referenceRows("epanet_runs.csv");
const round = (diameterM: number) => (Math.PI / 4) * diameterM ** 2;

interface ResolvedScenario {
  readonly net: Network;
  readonly levels: readonly number[];
}

/** A pump from vessel 0 through one line into displays; leg pipes have all the losses and are always full. */
function pumped(
  vessels: readonly Vessel[],
  levels: readonly number[],
  curve: [number, number][],
  riser: ReturnType<typeof straight>,
  legs: readonly { display: number; pipe: ReturnType<typeof straight> & { hazenWilliamsC?: number } }[],
  extra: {
    links?: readonly Link[];
    branch?: { pipe: ReturnType<typeof straight>; to: number };
    checkValve?: ReturnLine["checkValve"];
  } = {},
): ResolvedScenario {
  const first = vessels.length;
  const columns = legs.map((_, n) => tank(`leg ${n}`, 1e-4, 0, "return pipe"));
  const links: Link[] = [...(extra.links ?? [])];
  const add = (id: string, from: number, to: number) => links.push({ kind: "return", id, name: id, from, to }) - 1;
  const line: ReturnLine = {
    id: "",
    backupS: 0,
    source: 0,
    curve,
    intakeZ: -1,
    airBandM: 0.01,
    idle: straight(0, 25, 10),
    checkValve: extra.checkValve ?? "none",
    weepM3PerS: 0,
    tees: [{ z: -1, pipe: riser }],
    legs: legs.map(({ display, pipe }, n) => ({
      id: `leg ${n}`,
      display,
      legVessel: first + n,
      out: pipe,
      back: pipe,
      tipZ: -1,
      crownZ: 1,
      shut: false,
      tee: 0,
      hole: null,
      boreM: pipe.boreM,
      fallBoreM: pipe.boreM,
      holeBoreM: pipe.boreM,
      mouthK: 0.78,
      inLink: add(`in ${n}`, 0, first + n),
      outLink: add(`out ${n}`, first + n, display),
    })),
    branches: extra.branch
      ? [{ pipe: extra.branch.pipe, outletZ: -1, to: extra.branch.to, runsBack: false, link: add("branch", 0, extra.branch.to) }]
      : [],
  };
  return { net: network([...vessels, ...columns], links, line, NU), levels: [...levels, ...legs.map(() => 1)] };
}

function start({ net, levels }: ResolvedScenario): { system: HydraulicSystem; y: Float64Array } {
  const y = Float64Array.from(net.vessels, (vessel, n) => (n < levels.length ? (levels[n] - vessel.bottomZ) * vessel.areaM2 : 0));
  const system = new HydraulicSystem(net);
  system.modes.pumpOn = true;
  return { system, y };
}

const flow = (system: HydraulicSystem, id: string) =>
  system.flows[system.network.links.findIndex((link) => link.id === id)] / LPM;

/** Compares every row of a network. @param value the model's value of a quantity at a time, in the row's unit */
function check(table: string, value: (row: ReferenceRow) => number): void {
  const mine = rows.filter((row) => row.table === table);
  expect(mine.length).toBeGreaterThan(0);
  for (const row of mine) {
    const allowed = row.unit === "L/min" ? Math.max(0.01 * Math.abs(row.expected), 0.05) : Math.min(row.tolerance, 0.002);
    const got = value(row);
    compared({
      set: `EPANET 2.3.5, ${row.unit}`,
      what: `${row.id} ${row.quantity}`,
      unit: row.unit,
      source: "EPANET 2.3.5, run for this comparison",
      kind: "computed elsewhere",
      outside: row.expected,
      model: got,
    });
    expect(
      Math.abs(got - row.expected),
      `${row.id} ${row.quantity} ${JSON.stringify(row.inputs)}: ${got} against ${row.expected}`,
    ).toBeLessThanOrEqual(allowed);
  }
}

/** Simulates a network through requested times in ascending order. */
function follower(resolved: ResolvedScenario): (seconds: number) => HydraulicSystem {
  const { system, y } = start(resolved);
  let now = 0;
  return (seconds) => {
    if (seconds > now) {
      const run = runStage(system, y, {
        kind: "slow",
        atMostS: seconds - now,
        untilStill: false,
        keepTrace: false,
        follow: false,
      });
      expect(run.ending).not.toBe("failed");
      expect(run.waterDriftM3).toBeLessThan(1e-9 * system.total(y));
      now = seconds;
    }
    system.evaluate(y);
    return system;
  };
}

describe("EPANET", () => {
  const none = straight(0, 25, 0);

  test("N1 pump to reservoir, Darcy-Weisbach", () => {
    const { system, y } = start(
      pumped([tank("sump", LAKE_M2, -9), tank("display", LAKE_M2, -9)], [0.3, 1.6], C1, none, [
        { display: 1, pipe: straight(3, 25, 6.5) },
      ]),
    );
    system.evaluate(y);
    check("N1", (row) =>
      row.quantity === "flow"
        ? flow(system, "out 0")
        : row.quantity === "pump head"
          ? system.solver!.headOutZ - 0.3
          : system.solver!.headOutZ,
    );
  });

  test("N2 Hazen-Williams, pump at 0.9 of its speed (EPANET scales the fitted curve, not its points)", () => {
    const slowed = C1.map(([q, h]): [number, number] => [0.9 * q, 0.81 * h]);
    const { system, y } = start(
      pumped([tank("sump", LAKE_M2, -9), tank("display", LAKE_M2, -9)], [0.3, 1.6], slowed, none, [
        { display: 1, pipe: { ...straight(3, 25, 6.5), hazenWilliamsC: 150 } },
      ]),
    );
    system.evaluate(y);
    check("N2", () => system.solver!.headOutZ - 0.3);
  });

  test("N3 manifold with two returns and a branch", () => {
    const lakes = [tank("sump", LAKE_M2, -9), tank("a", LAKE_M2, -9), tank("b", LAKE_M2, -9), tank("reactor", LAKE_M2, -9)];
    const { system, y } = start(
      pumped(
        lakes,
        [0.25, 1.55, 1.55, 0.45],
        C2,
        straight(1.8, 32, 2.2),
        [
          { display: 1, pipe: straight(0.6, 25, 3) },
          { display: 2, pipe: straight(1.4, 20, 4.4) },
        ],
        { branch: { pipe: straight(0.9, 16, 8), to: 3 } },
      ),
    );
    system.evaluate(y);
    check("N3", (row) => {
      if (row.quantity === "pump flow") return system.solver!.pumpFlow / LPM;
      if (row.quantity === "riser flow") return flow(system, "out 0") + flow(system, "out 1");
      if (row.quantity === "return A flow") return flow(system, "out 0");
      if (row.quantity === "return B flow") return flow(system, "out 1");
      return row.quantity === "head J2" ? system.solver!.teeZ[0] : system.solver!.headOutZ;
    });
  });

  const fullPipe = (id: string, from: number, to: number, pipe: ReturnType<typeof straight>): Link => ({
    kind: "full pipe",
    id,
    name: id,
    from,
    to,
    pipe,
    count: 1,
    inletZ: -1,
    outletZ: -1,
    prime: -1,
  });

  test("N4 gravity drain between two tanks", () => {
    const net = network(
      [tank("up", round(0.8), 1), tank("low", round(0.6))],
      [fullPipe("pipe", 0, 1, straight(2, 32, 3.4))],
      null,
      NU,
    );
    const at = follower({ net, levels: [1.6, 0.2] });
    // The flow falls by a constant c per second; Euler steps of 1 s lead it by the sum of c / 2q, half a second times ln(q0 / q).
    const lead = (row: ReferenceRow) => (row.quantity === "flow" ? 0.5 * Math.log(117.99 / row.expected) : 0);
    check("N4", (row) => {
      const system = at((row.inputs.t_s as number) + lead(row));
      return row.quantity === "flow" ? flow(system, "pipe") : system.levels[row.quantity.startsWith("upper") ? 0 : 1];
    });
  });

  test("N5 closed loop from an unequal start", () => {
    const vessels = [tank("sump", round(0.6)), tank("display", round(0.9), 1.2)];
    const links = [fullPipe("return", 1, 0, straight(1.5, 25, 7))];
    const at = follower(pumped(vessels, [0.5, 1.3], C1, none, [{ display: 1, pipe: straight(3, 25, 6.5) }], { links }));
    check("N5", (row) => {
      const system = at(row.inputs.t_s as number);
      if (row.quantity === "pump flow") return flow(system, "out 0");
      return row.quantity === "return flow" ? flow(system, "return") : system.levels[row.quantity.startsWith("display") ? 1 : 0];
    });
  });

  test("N7 power cut with a check valve", () => {
    const vessels = [tank("sump", round(0.6)), tank("display", round(0.9), 1.2)];
    const links = [fullPipe("drain", 1, 0, straight(1.5, 40, 22))];
    const resolved = pumped(vessels, [0.3, 1.6], C1, none, [{ display: 1, pipe: straight(3, 25, 6.5) }], {
      links,
      checkValve: "seals",
    });
    const { system, y } = start(resolved);
    let now = 0;
    check("N7", (row) => {
      const t = row.inputs.t_s as number;
      if (t > now) {
        const run = runStage(system, y, { kind: "slow", atMostS: t - now, untilStill: false, keepTrace: false, follow: false });
        expect(run.ending, run.endingNote).not.toBe("failed");
        now = t;
      }
      // The pump stops at 60 s, before EPANET writes its line for that second.
      if (t >= 60) system.modes.pumpOn = false;
      system.evaluate(y);
      if (row.quantity === "drain flow") return flow(system, "drain");
      return row.quantity === "return-line flow"
        ? flow(system, "out 0")
        : system.levels[row.quantity.startsWith("display") ? 1 : 0];
    });
  });
});
