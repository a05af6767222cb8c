// Published and independently computed values compared with the functions of the model; each row has its source.

import { DARBY, ENTRANCE_FLUSH, ENTRANCE_REENTRANT, EXIT, OPEN_VALVE, threeK } from "../../../models/hydraulics/laws/fittings.ts";
import {
  clearingVelocityMPerS,
  SHARP_HOLE,
  stackCapacityM3PerS,
  standpipeInletM3PerS,
} from "../../../models/hydraulics/laws/outlet.ts";
import {
  boreAreaM2,
  colebrook,
  dunlopTransition,
  frictionFactor,
  hazenWilliamsLossM,
  pipeFlowM3PerS,
  swameeJain,
} from "../../../models/hydraulics/laws/pipe.ts";
import { atSpeed, powerFit, pumpCurve } from "../../../models/hydraulics/laws/pump.ts";
import { kindsvaterCarterM3PerS, villemonte, weirFlowM3PerS } from "../../../models/hydraulics/laws/weir.ts";
import type { Link } from "../../../models/hydraulics/network/network.ts";
import { kinematicViscosityM2PerS } from "../../../models/water/viscosity.ts";
import { checkReferenceRows, type Verdict } from "../../data/check-rows.ts";
import { input, type ReferenceRow } from "../../data/reference-rows.ts";
import { network, tank, timeWhen } from "./networks.ts";

const FOOT_M = 0.3048;
const INCH_M = 0.0254;
const GPM = 0.003785411784 / 60;
const FRANCIS_SI = Math.sqrt(FOOT_M);
const no = (notApplicable: string): Verdict => ({ notApplicable });

checkReferenceRows("pipe_flow.csv", pipeValue, 21);
checkReferenceRows("weirs.csv", weirValue, 101);
checkReferenceRows("drains_siphons_tanks.csv", drainValue, 124);

function pipeValue(row: ReferenceRow): Verdict {
  const at = (name: string) => input(row, name);
  switch (row.table) {
    case "P-A":
      return colebrook(at("Re"), at("eps_D"));
    case "P-B":
      return swameeJain(at("Re"), at("eps_D"));
    case "P-C":
      return row.quantity.includes("transitional") ? dunlopTransition(at("Re"), at("eps_D")) : frictionFactor(at("Re"), 0);
    case "P-D": {
      const pipe = { lengthM: at("L_m"), boreM: at("D_m"), roughnessM: 0, lossK: 0, hazenWilliamsC: at("C") };
      return row.quantity === "flow" ? pipeFlowM3PerS(pipe, at("h_m"), 1e-6) : hazenWilliamsLossM(pipe, at("Q_m3s"), at("C"));
    }
    case "P-E":
    case "P-F":
      return fittingValue(row);
    case "P-G":
      return craneValue(row);
    case "P-H":
      return dutyValue(row);
    default: {
      const points = row.inputs.points ?? [
        [0, 4.5],
        [60, 3.5],
        [110, 1.2],
      ];
      const { a, b, c } = powerFit(points as unknown as [number, number][]);
      if (row.quantity === "exponent C") return c;
      return row.quantity.startsWith("coefficient B") ? b : (a / b) ** (1 / c);
    }
  }
}

function fittingValue(row: ReferenceRow): Verdict {
  const known: Record<string, Verdict> = {
    "Gate valve, fully open": OPEN_VALVE,
    "Medium-radius elbow": threeK(DARBY.bend90, 1, 5e4),
    "Standard tee - flow through branch": threeK(DARBY.tee, 1, 5e4),
    "Square entrance": ENTRANCE_FLUSH,
    "Closed return bend": no("the model takes Darby's 1.17 for a threaded return bend; this handbook has nearly twice that"),
    "Long-radius elbow": no("the model has no long bends; Darby's 0.39 lies 36 % lower"),
    "Elbow, 90°, threaded, standard, (r/D = 1)": threeK(DARBY.bend90, 1, 5e4),
    "Elbow, 90°, threaded, long radius, (r/D = 1.5)": threeK(DARBY.longBend90, 1, 5e4),
    "Elbow, 45°, threaded standard, (r/D = 1)": threeK(DARBY.bend45, 1, 5e4),
    "Elbow, 180°, threaded, close-return bend, (r/D = 1)": threeK(DARBY.bend180, 1, 5e4),
    "Tee, Through-branch, (as elbow), threaded, (r/D = 1)": threeK(DARBY.tee, 1, 5e4),
    "Crane swing check, straight": no(
      "the model takes the conventional swing check of 100 fT; this straight-way one has half of it",
    ),
    "Crane gate valve full bore": OPEN_VALVE,
    "entrance, sharp-edged flush, Crane/Swamee": ENTRANCE_FLUSH,
    "entrance, re-entrant (Crane)": ENTRANCE_REENTRANT,
    "exit, normal": EXIT,
  };
  return known[String(row.inputs.fitting)] ?? no("a fitting or a correlation that the model does not use");
}

function craneValue(row: ReferenceRow): Verdict {
  const nu30 = kinematicViscosityM2PerS(30, 0);
  const bore = 0.0525;
  const reynolds = ((200 / 60000 / boreAreaM2(bore)) * bore) / nu30;
  switch (row.id) {
    case "P-G-001":
      return frictionFactor(reynolds, 0);
    case "P-G-002":
      return reynolds;
    case "P-G-005":
      return no("the row does not give the lift check's coefficient (a quarter of the loss)");
    case "P-G-010": {
      const speed = input(row, "n2") / input(row, "n1");
      return atSpeed([[input(row, "Q_gpm"), input(row, "H_ft")]], speed)[0][0];
    }
    default:
      return no("bore changes, a part-full pipe, or coefficients that the row does not give");
  }
}

/** Operating point of a pump and a system curve, by bisection: flow and head. */
function duty(points: readonly (readonly [number, number])[], system: (flow: number) => number): { flow: number; head: number } {
  const pump = pumpCurve(points);
  let low = 0;
  let high = pump.freeFlowM3PerS;
  for (let k = 0; k < 80; k++) {
    const middle = (low + high) / 2;
    if (pump.headM(middle) > system(middle)) low = middle;
    else high = middle;
  }
  return { flow: low, head: system(low) };
}

function dutyValue(row: ReferenceRow): Verdict {
  const parabola = (a: number, b: number, q: number): [number, number][] => [
    [0, a],
    [q, a - b * q * q],
  ];
  if (row.inputs.pump === "H=60-0.8Q") {
    const line = Array.from({ length: 76 }, (_, q): [number, number] => [q, 60 - 0.8 * q]);
    const { flow, head } = duty(line, (q) => 20 + 0.5 * q * q);
    return row.quantity === "Q" ? flow : head;
  }
  if (row.id === "P-H-004") {
    return duty(
      parabola(input(row, "H0_m"), input(row, "a_m_per_Lpm2"), 5),
      (q) => input(row, "dz_m") + input(row, "b_m_per_Lpm2") * q * q,
    ).head;
  }
  if (row.id === "P-H-011") {
    const flows = row.inputs.pump_Q_l_s as unknown as number[];
    const heads = row.inputs.pump_H_m as unknown as number[];
    const points = flows.map((flow, n): [number, number] => [flow / 1000, heads[n]]);
    return 1000 * duty(points, (q) => input(row, "static_m") + input(row, "k") * q * q).flow;
  }
  // Reservoir problem in feet: 10 in suction of 90 ft (f 0.022) and 8 in discharge of 4900 ft (f 0.028), 290 ft of lift.
  const loss = (f: number, length: number, bore: number) => (f * length) / bore / (2 * 32.174 * boreAreaM2(bore) ** 2);
  const k = loss(0.022, 90, 10 / 12) + loss(0.028, 4900, 8 / 12);
  const system = (q: number) => 290 + k * q * q;
  const arrangement = String(row.inputs.arrangement);
  const [a, b] = arrangement === "two in series" ? [730, 40] : arrangement === "two in parallel" ? [365, 5] : [365, 20];
  const { flow, head } = duty(parabola(a, b, 1), system);
  return row.quantity === "Q" ? flow : head;
}

function weirValue(row: ReferenceRow): Verdict {
  const at = (name: string) => input(row, name);
  switch (row.table) {
    case "WR-A":
      return weirFlowM3PerS(at("H_in") * INCH_M, at("L_ft") * FOOT_M, at("contractions")) / GPM;
    case "WR-B":
      return no("V-notch: the model has none");
    case "WR-C":
      if (row.inputs.formula !== "Kindsvater-Carter full width")
        return no(`${row.inputs.formula}: a formula that the model does not use`);
      return 1000 * kindsvaterCarterM3PerS(at("h_m"), at("p_m"), at("b_m"));
    case "WR-D":
      if (row.quantity === "Villemonte factor") return villemonte(at("H2_over_H1"));
      if (row.inputs.type === "sharp-crested rectangular") return weirFlowM3PerS(1, 1, 0) / FRANCIS_SI;
      return no("Kindsvater & Carter coefficients rounded in feet, and weirs that are contracted or triangular");
    case "WR-E":
      return no("broad crests: edges here are thinner than their head");
    default:
      return no("a municipal riser formula that the model does not use");
  }
}

function drainValue(row: ReferenceRow): Verdict {
  const at = (name: string) => input(row, name);
  switch (row.table) {
    case "D-A":
      return stackCapacityM3PerS(at("d_in") * INCH_M, 7 / 24) / GPM;
    case "D-G":
      return 1000 * standpipeInletM3PerS(at("h_mm") / 1000, at("D_mm") / 1000);
    case "D-B":
      return no("EN 12056-3 form of the stack law: the model uses Wyly & Eaton's");
    case "D-C":
    case "D-D":
      return no("sloping part-full pipes: drains here fall steeply");
    case "D-E":
    case "D-F":
      return no("another weir-to-orifice form: the model uses the one measured at HR Wallingford (table D-G)");
    case "S-A":
      if (row.id === "S-A-001")
        return pipeFlowM3PerS(
          { boreM: at("d_m"), lengthM: 0, roughnessM: 0, lossK: (at("f") * at("L_m")) / at("d_m") },
          at("dz_m"),
          1e-6,
        );
      if (row.quantity === "flow") return 1000 * nozzleFlow(row);
      if (row.quantity === "nozzle velocity") return nozzleFlow(row) / boreAreaM2(at("nozzle_mm") / 1000);
      return no("pressures inside a siphon are not put out");
    case "S-B":
      return row.inputs.form === "Sanks/Wisner"
        ? clearingVelocityMPerS(at("D_m"), (at("theta_deg") * Math.PI) / 180)
        : no("another clearing-velocity form");
    case "T-A":
      return row.inputs.shape === "circular" || String(row.inputs.kind).startsWith("sharp-edged")
        ? SHARP_HOLE
        : no("holes that are not round and sharp");
    default:
      return tankTime(row);
  }
}

const nozzleFlow = (row: ReferenceRow) =>
  pipeFlowM3PerS(
    { boreM: input(row, "nozzle_mm") / 1000, lengthM: 0, roughnessM: 0, lossK: 1 },
    input(row, "zA") - input(row, "zD"),
    1e-6,
  );

/** Drain and level times from runs of the model; areas are scaled so that its coefficients act as those of the row. */
function tankTime(row: ReferenceRow): Verdict {
  const at = (name: string) => input(row, name);
  const ends = { id: "link", name: "link" } as const;
  switch (row.id) {
    case "T-B-001": {
      const area = (at("outlet_in2") * INCH_M ** 2 * at("Cd")) / SHARP_HOLE;
      const hole: Link = { ...ends, kind: "hole", from: 0, to: 1, areaM2: area, z: 0 };
      const net = network([tank("tank", boreAreaM2(at("D_ft") * FOOT_M))], [hole]);
      return timeWhen(net, [at("h1_ft") * FOOT_M], 300, (levels) => levels[0] <= at("h2_ft") * FOOT_M);
    }
    case "T-B-005": {
      const width = (boreAreaM2(at("orifice_m")) * at("Cd")) / SHARP_HOLE;
      const gap: Link = { ...ends, kind: "gap", from: 0, to: 1, widthM: width, gapM: 1 };
      const net = network([tank("a", at("A1_m2")), tank("b", at("A2_m2"))], [gap]);
      return timeWhen(net, [2 + at("dh1_m"), 2], 60, (levels) => levels[0] - levels[1] <= at("dh2_m"));
    }
    case "T-B-008": {
      const length = (at("weir_b_m") * (2 / 3) * at("Cd") * Math.sqrt(2 * at("g"))) / (3.33 * FRANCIS_SI);
      const rim: Link = { ...ends, kind: "rim", from: 0, to: 1, crestZ: 1, lengthM: length };
      const net = network([tank("tank", at("A_m2"))], [rim]);
      return timeWhen(net, [1 + at("H1_m")], 200, (levels) => levels[0] <= 1 + at("H2_m"));
    }
    default:
      return no(
        row.inputs.shape
          ? "a vessel that is not straight-walled"
          : "to the last drop; see the closed forms for the time to a small difference",
      );
  }
}
