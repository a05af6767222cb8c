// The return line as links and pipes: pump, riser, a leg to each nozzle, branches.

import type { Rig } from "../../rig.ts";
import { checkValveK, ENTRANCE_REENTRANT, EXIT, FANNED_TIP, fittingsK, OPEN_VALVE, obstructionK } from "../laws/fittings.ts";
import { boreAreaM2, type Pipe } from "../laws/pipe.ts";
import { type Assembly, receiver } from "./assembly.ts";
import type { ReturnLeg, ReturnLine } from "./network.ts";

/** The return pipe's crown stands this far above the display's rim [m] (modelling assumption; hoses hang over the rim). */
const CROWN_OVER_RIM_M = 0.03;
/** Depth over which a pump that has begun to draw air loses its flow [m] (modelling assumption; a vortex forms first). */
const AIR_BAND_M = 0.01;

/** No nozzle reaches lower over the floor of its display, wherever it is knocked to [m] (modelling assumption). */
const LOWEST_TIP_M = 0.002;
/** Least level at which a pump draws air: it stands on the floor [m] (modelling assumption). */
const LOWEST_INTAKE_M = 0.005;

/**
 * Adds the return line to displays, towers and chambers already added. Each nozzle hangs on its own rising leg from a manifold at the pump,
 * so that one broken siphon does not break the others': the cautious reading (modelling assumption).
 */
export function addReturnLine(parts: Assembly, rig: Rig): ReturnLine {
  const { pump, riser, nozzles, branches, checkValve, checkValveWeepM3PerS, valveOpenShare } = rig.return;
  const source = parts.place(rig.sump.chambers[rig.sump.chambers.length - 1].id);
  const valve = checkValve === "none" ? 0 : checkValveK(riser.boreM);
  const riserPipe: Pipe = {
    boreM: riser.boreM,
    lengthM: riser.lengthM,
    roughnessM: riser.roughnessM,
    lossK: fittingsK(riser.fittings, riser.boreM) + OPEN_VALVE + obstructionK(valveOpenShare) + valve,
  };
  const intakeZ = Math.max(pump.intakeM, LOWEST_INTAKE_M);
  const room = (boreAreaM2(riser.boreM) * riser.lengthM) / nozzles.length;
  const legs = nozzles.map((nozzle): ReturnLeg => {
    const display = parts.place(nozzle.display);
    const rim = parts.vessels[display].rimZ ?? nozzle.tipZ;
    const tipZ = Math.max(nozzle.tipZ, parts.vessels[display].bottomZ + LOWEST_TIP_M);
    const crownZ = Math.max(rim, tipZ, nozzle.breakHole?.z ?? tipZ) + CROWN_OVER_RIM_M;
    const name = `return pipe to ${nozzle.id}`;
    const legVessel = parts.box("return pipe", `${nozzle.id} pipe`, name, nozzle.id, 0, room / crownZ, null);
    const inLink = parts.link({ kind: "return", id: `up to ${nozzle.id}`, name: `up the ${name}`, from: source, to: legVessel });
    const outLink = parts.link({
      kind: "return",
      id: `out of ${nozzle.id}`,
      name: `out of nozzle ${nozzle.id}`,
      from: legVessel,
      to: display,
    });
    const fan = nozzle.jet === "fanned" ? FANNED_TIP : 0;
    const end = { boreM: nozzle.boreM, lengthM: 0, roughnessM: riser.roughnessM };
    const { breakHole } = nozzle;
    return {
      id: nozzle.id,
      display,
      legVessel,
      out: { ...end, lossK: EXIT + fan },
      back: { ...end, lossK: ENTRANCE_REENTRANT + fan },
      tipZ,
      crownZ,
      hole: breakHole
        ? { z: breakHole.z, diameterM: breakHole.diameterM, areaM2: boreAreaM2(breakHole.diameterM) * breakHole.count }
        : null,
      boreM: nozzle.boreM,
      fallBoreM: nozzles.length === 1 ? riser.boreM : nozzle.boreM,
      inLink,
      outLink,
    };
  });
  return {
    source,
    curve: pump.curve,
    intakeZ,
    airBandM: Math.min(AIR_BAND_M, intakeZ),
    idle: { boreM: riser.boreM, lengthM: 0, roughnessM: 0, lossK: Math.max(pump.idleK, 0) + EXIT },
    checkValve,
    weepM3PerS: checkValveWeepM3PerS,
    riser: riserPipe,
    legs,
    branches: branches.map((branch) => {
      const to = receiver(parts, branch.to);
      const link = parts.link({ kind: "return", id: `branch ${branch.id}`, name: `branch ${branch.id}`, from: source, to });
      return {
        pipe: { boreM: branch.boreM, lengthM: branch.lengthM, roughnessM: riser.roughnessM, lossK: branch.k },
        outletZ: branch.outletZ,
        to,
        link,
      };
    }),
  };
}
