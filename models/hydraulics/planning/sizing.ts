// Sizing rules of common practice, in addition to the physics. None of them is a verdict.

import { pow } from "../../../sim/elementary.ts";
import { SECONDS_PER_DAY } from "../../../sim/time.ts";
import { type Rig, returnLines } from "../../rig.ts";
import { evaporationOfRigM3PerS } from "../laws/evaporation.ts";
import { volumeBelowM3 } from "../laws/level-curve.ts";
import { OutageSimulator } from "../outage/outage-simulation.ts";
import type { SizingCheck } from "../types.ts";

/** Drain-down for which a sump is sized by rule of thumb: 3/4 in of every display [m]. */
const THUMB_DRAIN_DOWN_M = 0.01905;
const HAND_ROOM_M = 0.15;
const TURNOVER = { low: 3, high: 10 };
const SUMP_SHARE = 0.25;
/** 600 US gallons per hour through a vented pipe of 1 in. */
const VENTED_INCH_M3_PER_S = (600 * 0.003785411784) / 3600;
const INCH_M = 0.0254;
const DAILY_EVAPORATION_SHARE = 0.02;
const MOST_OF_LABEL_FLOW = 0.8;

/** Checks by common practice; `have` and `want` are in the named unit. */
export function sizingChecks(rig: Rig): SizingCheck[] {
  const simulator = new OutageSimulator(rig);
  const running = simulator.running();
  const practice = (
    id: string,
    rule: string,
    have: number,
    want: number,
    unit: string,
    met: boolean,
    note: string,
  ): SizingCheck => ({
    id,
    rule,
    evidence: "common practice",
    have,
    want,
    unit,
    met,
    note,
  });
  const displayM2 = rig.displays.reduce((sum, display) => sum + display.lengthM * display.widthM, 0);
  const displayM3 = rig.displays.reduce((sum, display) => sum + display.lengthM * display.widthM * display.heightM, 0);
  const sumpM3 = rig.sump.lengthM * rig.sump.widthM * rig.sump.heightM;
  const room = simulator.network.vessels.reduce(
    (sum, { kind, rimZ, curve, id }) =>
      kind === "chamber" && rimZ !== null ? sum + volumeBelowM3(curve, rimZ) - running.volumesM3[id] : sum,
    0,
  );
  const flow = running.pump.flowM3PerS;
  const vented = rig.displays
    .flatMap((display) => display.overflows)
    .flatMap((overflow) => overflow.drains)
    .filter((drain) => drain.kind === "open")
    .reduce((sum, drain) => sum + VENTED_INCH_M3_PER_S * pow(drain.boreM / INCH_M, 8 / 3), 0);
  const evaporationPerDay = evaporationOfRigM3PerS(rig) * SECONDS_PER_DAY;
  const reserve = displayM2 * THUMB_DRAIN_DOWN_M;
  const perDay = evaporationPerDay / running.systemVolumeM3;
  const checks = [
    practice(
      "reserve",
      "sump has room for 3/4 in of water from every tank above its running level",
      room,
      reserve,
      "m3",
      room >= reserve,
      "the power-cut run is the better answer",
    ),
    practice(
      "turnover",
      "3 to 10 system volumes an hour through the sump",
      running.turnoverPerHour,
      TURNOVER.low,
      "1/h",
      running.turnoverPerHour >= TURNOVER.low && running.turnoverPerHour <= TURNOVER.high,
      "slower is quieter, faster wets the media better",
    ),
    practice(
      "sump share",
      "sump at least a quarter of the tank",
      sumpM3 / displayM3,
      SUMP_SHARE,
      "share",
      sumpM3 / displayM3 >= SUMP_SHARE,
      "by outside volume",
    ),
    practice(
      "evaporation",
      "at most 2 % of the water evaporates a day",
      perDay,
      DAILY_EVAPORATION_SHARE,
      "share/day",
      perDay <= DAILY_EVAPORATION_SHARE,
      "about 1 % is usual",
    ),
  ];
  if (rig.cabinet)
    checks.push(
      practice(
        "hand room",
        "150 mm clear over the sump for hands",
        rig.cabinet.heightM - rig.sump.heightM,
        HAND_ROOM_M,
        "m",
        rig.cabinet.heightM - rig.sump.heightM >= HAND_ROOM_M,
        "inside height of the cabinet less the sump",
      ),
    );
  if (vented > 0)
    checks.push(
      practice(
        "vented drains",
        "a vented 1 in pipe takes 600 US gallons an hour, others as bore^(8/3)",
        vented,
        flow,
        "m3/s",
        vented >= flow,
        "uncertain by a third either way",
      ),
    );
  const label = returnLines(rig).reduce((sum, { pump: { curve } }) => sum + curve[curve.length - 1][0], 0);
  checks.push(
    practice(
      "label flow",
      "pump moves at most 80 % of its label flow",
      flow / label,
      MOST_OF_LABEL_FLOW,
      "share",
      flow / label <= MOST_OF_LABEL_FLOW,
      "50 to 70 % is usual; more would be a surprise",
    ),
  );
  if (rig.topOff) {
    const level = simulator.cutOnly(rig).cut;
    const spare = simulator.network.vessels.reduce(
      (sum, { kind, rimZ, curve, id }) =>
        kind === "chamber" && rimZ !== null ? sum + volumeBelowM3(curve, rimZ) - level.endVolumesM3[id] : sum,
      0,
    );
    checks.push(
      practice(
        "reservoir",
        "sump holds what drains down plus the whole reservoir",
        spare,
        rig.topOff.reservoirM3,
        "m3",
        spare >= rig.topOff.reservoirM3,
        "room left after a power cut against the reservoir",
      ),
    );
  }
  return checks;
}
