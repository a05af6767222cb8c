// The return line as links and pipes: pump, riser, one leg per nozzle, branches.

import { square } from "../../../sim/elementary.ts";
import type { ReturnLine as BuiltLine, Nozzle, Rig } from "../../rig.ts";
import { checkValveK, ENTRANCE_REENTRANT, EXIT, FANNED_TIP, fittingsK, OPEN_VALVE, obstructionK } from "../laws/fittings.ts";
import { boreAreaM2, type Pipe } from "../laws/pipe.ts";
import type { Assembly } from "./assembly.ts";
import { addBranch } from "./branch-parts.ts";
import type { ReturnLeg, ReturnLine, Tee } from "./network.ts";

/** Height of the return pipe's crown above the display's rim [m] (modelling assumption; hoses hang over the rim). */
const CROWN_OVER_RIM_M = 0.03;
/** Depth over which a pump that draws air loses its flow [m] (modelling assumption; a vortex forms first). */
const AIR_BAND_M = 0.01;

/** Smallest height of a nozzle above the floor of its display, after any displacement [m] (modelling assumption). */
const LOWEST_TIP_M = 0.002;
/** Lowest level at which a pump on the floor draws air [m] (modelling assumption). */
const LOWEST_INTAKE_M = 0.005;

/**
 * Tees of a riser from the pump upwards. Its length is divided by height; its fittings and valves are below the first
 * tee. Nozzles without a branch have their own legs from a manifold at the pump, so that one broken siphon does not
 * break the others, which is the conservative interpretation (modelling assumption).
 */
function teesOf({ riser, nozzles }: BuiltLine, whole: Pipe): Tee[] {
  const heights = [...new Set(nozzles.flatMap(({ branch }) => (branch ? [branch.teeZ] : [])))].sort((a, b) => a - b);
  if (heights.length === 0) return [{ z: 0, pipe: whole }];
  const top = Math.max(heights[heights.length - 1], 1e-3);
  return heights.map((z, n) => {
    const below = n === 0 ? 0 : heights[n - 1];
    return { z, pipe: { ...whole, lengthM: (riser.lengthM * (z - below)) / top, lossK: n === 0 ? whole.lossK : 0 } };
  });
}

interface LegPipes {
  readonly out: Pipe;
  readonly back: Pipe;
  readonly holeBoreM: number;
  readonly mouthK: number;
}

/**
 * From the tee to the display and back: the branch, its tee and valve, and the tip, relative to the velocity head in
 * the branch.
 */
function legPipes({ boreM, jet, openShare, branch }: Nozzle, roughnessM: number): LegPipes {
  const fan = (jet === "fanned" ? FANNED_TIP : 0) + obstructionK(openShare);
  if (!branch) {
    const end = { boreM, lengthM: 0, roughnessM };
    return {
      out: { ...end, lossK: EXIT + fan },
      back: { ...end, lossK: ENTRANCE_REENTRANT + fan },
      holeBoreM: boreM,
      mouthK: ENTRANCE_REENTRANT + fan,
    };
  }
  const wider = square(boreAreaM2(branch.boreM) / boreAreaM2(boreM));
  const onTheWay = fittingsK(BRANCH_FITTINGS, branch.boreM) + OPEN_VALVE + obstructionK(branch.valveOpenShare);
  const run = { boreM: branch.boreM, lengthM: branch.lengthM, roughnessM };
  return {
    out: { ...run, lossK: onTheWay + (EXIT + fan) * wider },
    back: { ...run, lossK: onTheWay + (ENTRANCE_REENTRANT + fan) * wider },
    holeBoreM: branch.boreM,
    mouthK: (ENTRANCE_REENTRANT + fan) * wider,
  };
}

/** A branch leaves through its tee and crosses the rim with two quarter bends (modelling assumption). */
const BRANCH_FITTINGS = { bends90: 2, bends45: 0, bends180: 0, tees: 1, unions: 0, extraK: 0 };

/** Adds the return line to existing displays, towers and chambers. */
export function addReturnLine(parts: Assembly, rig: Rig, built: BuiltLine = rig.return): ReturnLine {
  const { pump, riser, nozzles, branches, checkValve, checkValveWeepM3PerS, valveOpenShare } = built;
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
  const tees = teesOf(built, riserPipe);
  const legs = nozzles.map((nozzle): ReturnLeg => {
    const display = parts.place(nozzle.display);
    const rim = parts.vessels[display].rimZ ?? nozzle.tipZ;
    const tipZ = Math.max(nozzle.tipZ, parts.vessels[display].bottomZ + LOWEST_TIP_M);
    const { branch } = nozzle;
    const crownZ = Math.max(rim, tipZ, nozzle.breakHole?.z ?? tipZ, branch?.teeZ ?? tipZ) + CROWN_OVER_RIM_M;
    const ownRoom = branch ? boreAreaM2(branch.boreM) * branch.lengthM : 0;
    const name = `return pipe to ${nozzle.id}`;
    const legVessel = parts.box("return pipe", `${nozzle.id} pipe`, name, nozzle.id, 0, (room + ownRoom) / crownZ, null);
    const inLink = parts.link({ kind: "return", id: `up to ${nozzle.id}`, name: `up the ${name}`, from: source, to: legVessel });
    const outLink = parts.link({
      kind: "return",
      id: `out of ${nozzle.id}`,
      name: `out of nozzle ${nozzle.id}`,
      from: legVessel,
      to: display,
    });
    const { breakHole } = nozzle;
    return {
      id: nozzle.id,
      display,
      legVessel,
      ...legPipes(nozzle, riser.roughnessM),
      tipZ,
      crownZ,
      shut: nozzle.openShare <= 0 || (branch !== null && branch.valveOpenShare <= 0),
      tee: branch ? tees.findIndex(({ z }) => z === branch.teeZ) : 0,
      hole: breakHole
        ? { z: breakHole.z, diameterM: breakHole.diameterM, areaM2: boreAreaM2(breakHole.diameterM) * breakHole.count }
        : null,
      boreM: nozzle.boreM,
      fallBoreM: branch ? branch.boreM : nozzles.length === 1 ? riser.boreM : nozzle.boreM,
      inLink,
      outLink,
    };
  });
  return {
    id: built.name === "" ? "" : ` of ${built.name}`,
    backupS: built.backupS,
    source,
    curve: pump.curve,
    intakeZ,
    airBandM: Math.min(AIR_BAND_M, intakeZ),
    idle: { boreM: riser.boreM, lengthM: 0, roughnessM: 0, lossK: Math.max(pump.idleK, 0) + EXIT },
    checkValve,
    weepM3PerS: checkValveWeepM3PerS,
    tees,
    legs,
    branches: branches.map((branch) => addBranch(parts, branch, source, riser.roughnessM)),
  };
}
