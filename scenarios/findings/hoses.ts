// "Taking 60 L out of the tank with the return off takes 12 min." A water change by hose, and hoses that nobody shuts.

import type { OutageSimulator } from "../../models/hydraulics/outage/outage-simulation.ts";
import { type HosePlan, simulateWaterChange, type WaterChangeRun } from "../../models/hydraulics/outage/water-change.ts";
import type { Rig } from "../../models/rig.ts";
import type { Statement } from "../result/statement.ts";
import { duration, flow, length, type Message, sentence, volume } from "../text/message.ts";
import { partName } from "./part-name.ts";
import { furthest } from "./sequences.ts";

/** Share of the wanted volume that counts as all of it. */
const WHOLE = 0.99;

const caution =
  "Switch heaters off before the water falls: one that is hot in air can crack or start a fire. Keep plugs and hands dry, and stay beside the hose.";

/** @returns no finding without hoses, or without a steady state to start from */
export function hoseFindings(rig: Rig, simulator: OutageSimulator, plan: HosePlan | null): Statement[] {
  if (!plan) return [];
  const change = simulateWaterChange(simulator, plan, "none");
  const draining = simulateWaterChange(simulator, plan, "draining");
  const filling = simulateWaterChange(simulator, plan, "filling");
  if (!change || !draining || !filling) return [];
  return [changed(rig, plan, change), forgottenDraining(rig, plan, draining), forgottenFilling(rig, plan, filling)];
}

const withReturn = ({ returnRuns }: HosePlan): string => `with the return ${returnRuns ? "running" : "off"}`;

/** When the pump first draws air after a time [s]; null if it does not. */
const airAfter = ({ transient }: WaterChangeRun, fromS: number): number | null =>
  transient.events.find(({ id, tS }) => id.startsWith("pump air") && tS >= fromS)?.tS ?? null;

function changed(rig: Rig, plan: HosePlan, run: WaterChangeRun): Statement {
  const { verdict, takenM3, emptyS, fillS, shutS } = run;
  const floods = verdict.word === "FLOODS";
  const short: Message =
    takenM3 < WHOLE * plan.changeM3
      ? sentence` The hose ends too high for ${volume(plan.changeM3)}: it stops after ${volume(takenM3)}.`
      : [];
  const airS = airAfter(run, emptyS);
  const air: Message =
    airS === null ? [] : sentence` The pump draws air ${duration(airS - emptyS)} after the hose begins: switch it off first.`;
  const off = furthest(run.running.levelsZ, run.transient);
  const after: Message = floods
    ? sentence` ${volume(verdict.floorM3)} end on the floor.`
    : off === null
      ? sentence` Afterwards every level is back where it was.`
      : sentence` Afterwards ${off.name} stands ${length(Math.abs(off.byM))} ${off.byM > 0 ? "higher" : "lower"} than before.`;
  const lasts =
    fillS === null
      ? sentence`takes longer than a day`
      : shutS === null
        ? sentence`takes ${duration(fillS - emptyS)}`
        : sentence`takes ${duration(fillS - emptyS)}, and filling it again ${duration(shutS - fillS)}`;
  return {
    id: "hose-change",
    topic: "upkeep",
    consequence: floods ? "loss" : airS !== null ? "harm" : "none",
    likelihood: "planned",
    word: floods ? "FLOODS" : airS !== null ? "DRAWS AIR" : "WATER CHANGE",
    text: sentence`Taking ${volume(takenM3)} out of ${partName(rig, plan.vessel)} by hose ${withReturn(plan)} ${lasts}.${short}${air}${after}`,
    value: takenM3,
    unit: "m3",
    advice: caution,
  };
}

function forgottenDraining(rig: Rig, plan: HosePlan, run: WaterChangeRun): Statement {
  const { takenM3, emptyS, running, transient } = run;
  const airS = airAfter(run, emptyS);
  const air: Message = airS === null ? [] : sentence` The pump draws air after ${duration(airS - emptyS)}.`;
  const tanks = transient.vessels.filter(({ kind }) => kind === "display");
  const fallsM = Math.max(...tanks.map(({ id }) => running.levelsZ[id] - transient.lowestZ[id].z));
  return {
    id: "hose-draining",
    topic: "upkeep",
    consequence: "harm",
    likelihood: "possible",
    word: "FORGOTTEN HOSE",
    text: sentence`A draining hose that is forgotten in ${partName(rig, plan.vessel)} runs on to the height of its end: ${volume(takenM3)} are gone after ${duration(transient.settledS - emptyS)}, and the water in ${tanks.length > 1 ? "the lowest of the tanks" : "the tank"} is down by ${length(fallsM)}.${air}`,
    value: takenM3,
    unit: "m3",
    advice: "Fix the end of the hose at the height at which it must stop: then it breaks its own siphon there.",
  };
}

function forgottenFilling(rig: Rig, plan: HosePlan, run: WaterChangeRun): Statement {
  const { transient, fillS, shutS, verdict } = run;
  const floods = verdict.word === "FLOODS";
  const { firstSpillS } = verdict;
  const from = verdict.spillVesselId === null ? "" : ` from ${partName(rig, verdict.spillVesselId)}`;
  const late = firstSpillS !== null && shutS !== null && firstSpillS > shutS ? firstSpillS - shutS : null;
  const ends = !floods
    ? sentence`no water is on the floor after a day`
    : late !== null
      ? sentence`water runs onto the floor${from} ${duration(late)} after it should have been shut, ${flow(plan.fillM3PerS)} from then on`
      : sentence`water runs onto the floor${from} ${duration((firstSpillS ?? 0) - (fillS ?? 0))} after it begins, before as much is back as was taken`;
  return {
    id: "hose-filling",
    topic: "upkeep",
    consequence: floods ? "loss" : "none",
    likelihood: "possible",
    word: floods ? "FLOODS" : "FORGOTTEN HOSE",
    text: sentence`If the filling hose is forgotten ${withReturn(plan)}, ${ends}${transient.ending === "failed" ? "; the simulation could not be finished" : ""}.`,
    value: late,
    unit: "s",
    advice: "Set a timer before you open the tap, or fill from a can that holds no more than is missing.",
  };
}
