// Builds the network of vessels and links of a rig.

import { square } from "../../../sim/elementary.ts";
import type { Display, Drain, Overflow, Rig } from "../../rig.ts";
import { kinematicViscosityM2PerS } from "../../water/viscosity.ts";
import { blockedValveK, ENTRANCE_FLUSH, ENTRANCE_REENTRANT, EXIT, fittingsK } from "../laws/fittings.ts";
import { levelCurve } from "../laws/level-curve.ts";
import { SHARP_HOLE } from "../laws/outlet.ts";
import { boreAreaM2, type Pipe } from "../laws/pipe.ts";
import { Assembly, receiver } from "./assembly.ts";
import type { Network } from "./network.ts";
import { addReturnLine } from "./return-parts.ts";
import { addBaffles, addSump } from "./sump-parts.ts";
import { addTower } from "./tower-parts.ts";

/** Bore of the round opening with the given area [m]. */
const boreOfAreaM = (areaM2: number): number => Math.sqrt((4 * areaM2) / Math.PI);

/** Loss coefficient at which each throttled drain is set, by drain id; absent = valve open. */
export type ValveLosses = ReadonlyMap<string, number>;

/** Plan area of the floor that receives spills [m²]; its value has no effect (modelling assumption). */
const FLOOR_M2 = 10;
/** Depth of a reservoir without further description [m] (modelling assumption). */
const RESERVOIR_DEPTH_M = 0.4;

/** Smallest height of a tube end above the floor of its box [m] (modelling assumption). */
const LOWEST_TUBE_END_M = 0.002;

/**
 * Vessels and links of a rig. Elevations are those of the rig. Order of the vessels: floor, air, joined tanks, chambers, towers,
 * displays with their overflow boxes and drains, return pipes, reservoir.
 * @throws Error when an id is used twice, a drain or tower has no destination, or parts leave no room
 */
export function buildNetwork(rig: Rig, valveLosses: ValveLosses): Network {
  const parts = new Assembly();
  const floor = parts.box("floor", "floor", "the floor", "", 0, FLOOR_M2, null);
  const air = parts.box("air", "air", "evaporated", "", 0, FLOOR_M2, null);
  addSump(parts, rig, floor);
  for (const tower of rig.towers) addTower(parts, tower, floor);
  for (const display of rig.displays) addDisplay(parts, display, valveLosses, floor);
  addBaffles(parts, rig);
  const returnLine = addReturnLine(parts, rig);
  const moreLines = rig.moreReturns.map((built) => addReturnLine(parts, rig, built));
  const chamber = parts.place(rig.sump.chambers[rig.sump.chambers.length - 1].id);
  let topOff = null;
  if (rig.topOff) {
    const { reservoirM3, pumpM3PerS, onBelowM, offAboveM } = rig.topOff;
    const plan = Math.max(reservoirM3, 1e-3) / RESERVOIR_DEPTH_M;
    const reservoir = parts.box("reservoir", "reservoir", "the top-off reservoir", "", 0, plan, null);
    parts.link({
      kind: "set",
      id: "top-off",
      name: "top-off",
      from: reservoir,
      to: chamber,
      flowM3PerS: pumpM3PerS,
      switchedBy: "top-off",
    });
    topOff = { reservoir, onBelowZ: onBelowM, offAboveZ: offAboveM };
  }
  const evaporation = rig.evaporationM3PerS ?? 0;
  if (evaporation > 0) {
    const whole = rig.displays.reduce((sum, display) => sum + display.lengthM * display.widthM, 0);
    for (const display of rig.displays) {
      const flowM3PerS = (evaporation * display.lengthM * display.widthM) / whole;
      const from = parts.place(display.id);
      parts.link({
        kind: "set",
        id: `evaporation ${display.id}`,
        name: `evaporation from ${display.name}`,
        from,
        to: air,
        flowM3PerS,
        switchedBy: "evaporation",
      });
    }
  }
  return {
    vessels: parts.vessels,
    links: parts.links,
    drains: parts.drains,
    returnLine,
    moreLines,
    topOff,
    primes: parts.primes,
    viscosityM2PerS: kinematicViscosityM2PerS(rig.waterTemperatureC, rig.salinityGPerKg),
    runningZ: rig.sump.runningLevelM,
    floor,
    notes: parts.notes,
  };
}

function addDisplay(parts: Assembly, display: Display, valveLosses: ValveLosses, floor: number): void {
  const plan = display.lengthM * display.widthM;
  const curve = levelCurve(display.bottomZ, plan, display.displacements);
  const rim = display.bottomZ + display.heightM;
  const place = parts.vessel("display", display.id, display.name, display.id, curve, plan, rim);
  parts.rim(place, floor, 2 * (display.lengthM + display.widthM));
  for (const overflow of display.overflows) addOverflow(parts, place, overflow, valveLosses, floor);
}

function addOverflow(parts: Assembly, display: number, overflow: Overflow, valveLosses: ValveLosses, floor: number): void {
  const { box, siphon, leak } = overflow;
  if (overflow.kind === "standpipe") {
    for (const drain of overflow.drains)
      addDrain(parts, overflow.id, display, drain, valveLosses.get(drain.id) ?? 0, overflow.openShare);
    return;
  }
  const hangOn = overflow.kind === "hang-on" && siphon !== null;
  const boxRim = box.floorZ + box.depthM;
  const name = `the overflow box ${overflow.id}`;
  const place = parts.box("box", `${overflow.id} box`, name, overflow.id, box.floorZ, box.planAreaM2, hangOn ? boxRim : null);
  const weir = {
    kind: "weir",
    crestZ: overflow.crestZ,
    lengthM: overflow.weirLengthM * overflow.openShare,
    contractions: overflow.openShare < 1 ? 2 : 0,
  } as const;
  const weirId = `weir ${overflow.id}`;
  const weirName = `weir of ${overflow.id}`;
  if (hangOn) {
    parts.rim(place, floor, 4 * Math.sqrt(box.planAreaM2));
    const cupBottom = Math.min(siphon.inletZ, overflow.crestZ) - 0.01;
    const cup = parts.box(
      "cup",
      `${overflow.id} cup`,
      `the cup of ${overflow.id} in the display`,
      overflow.id,
      cupBottom,
      box.planAreaM2 / 2,
      null,
    );
    parts.link({ ...weir, id: weirId, name: weirName, from: display, to: cup });
    parts.link({
      kind: "full pipe",
      id: `tubes ${overflow.id}`,
      name: `siphon tubes of ${overflow.id}`,
      from: cup,
      to: place,
      pipe: { boreM: siphon.boreM, lengthM: siphon.lengthM, roughnessM: 1.5e-6, lossK: ENTRANCE_REENTRANT + EXIT },
      count: siphon.count,
      inletZ: siphon.inletZ,
      outletZ: Math.max(siphon.outletZ, box.floorZ + LOWEST_TUBE_END_M),
      prime: parts.primes++,
    });
  } else parts.link({ ...weir, id: weirId, name: weirName, from: display, to: place });
  if (leak?.to === "box") {
    // A submerged opening is a pipe of zero length with the loss of a sharp-edged orifice.
    const pipe: Pipe = { boreM: boreOfAreaM(leak.areaM2), lengthM: 0, roughnessM: 0, lossK: 1 / square(SHARP_HOLE) };
    const ends = { from: display, to: place, inletZ: leak.z, outletZ: leak.z };
    parts.link({
      kind: "full pipe",
      id: `seam ${overflow.id}`,
      name: `leaking seam of ${name}`,
      pipe,
      count: 1,
      prime: -1,
      ...ends,
    });
  } else if (leak)
    parts.link({
      kind: "hole",
      id: `leak ${overflow.id}`,
      name: `leaking bulkhead of ${name}`,
      from: place,
      to: floor,
      areaM2: leak.areaM2,
      z: leak.z,
    });
  for (const drain of overflow.drains) addDrain(parts, overflow.id, place, drain, valveLosses.get(drain.id) ?? 0);
}

/**
 * @param throttleK loss coefficient of the valve at its setting
 * @param mouthShare open fraction of the strainer over the mouth, 0 to 1
 */
function addDrain(parts: Assembly, overflowId: string, box: number, drain: Drain, throttleK: number, mouthShare = 1): void {
  const share = Math.max(0, Math.min(1, drain.openShare));
  const pipe: Pipe = {
    boreM: drain.boreM,
    lengthM: Math.max(drain.lengthM, 0.1),
    roughnessM: drain.roughnessM,
    lossK: ENTRANCE_FLUSH + fittingsK(drain.fittings, drain.boreM) + EXIT + blockedValveK(throttleK, share),
  };
  const to = receiver(parts, drain.to);
  const inletZ = parts.vessels[box].bottomZ + drain.inletM;
  const plan = (boreAreaM2(drain.boreM) * pipe.lengthM) / Math.max(inletZ - drain.outletZ, 0.05);
  const name = `drain ${drain.id}`;
  const pipeVessel = parts.box(
    "drain pipe",
    `${drain.id} pipe`,
    name,
    drain.id,
    Math.min(drain.outletZ, inletZ - 0.05),
    plan,
    null,
  );
  const drainIndex = parts.drains.length;
  const inletLink = parts.link({
    kind: "drain inlet",
    id: `into ${drain.id}`,
    name: `into ${name}`,
    from: box,
    to: pipeVessel,
    drain: drainIndex,
  });
  const outletLink = parts.link({
    kind: "drain outlet",
    id: `out of ${drain.id}`,
    name: `out of ${name}`,
    from: pipeVessel,
    to,
    drain: drainIndex,
  });
  parts.drains.push({
    id: drain.id,
    overflowId,
    kind: drain.kind,
    box,
    pipeVessel,
    to,
    mouthBoreM: share === 0 ? 0 : drain.boreM * Math.sqrt(share * mouthShare),
    pipe,
    inletZ,
    outletZ: drain.outletZ,
    inletLink,
    outletLink,
  });
}
