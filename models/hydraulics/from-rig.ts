// The rig as built, turned into vessels and links.

import type { Chamber, Display, Drain, Overflow, Prefilter, Rig, Tower } from "../rig.ts";
import { kinematicViscosityM2PerS } from "../water/viscosity.ts";
import {
  CHECK_VALVE,
  ENTRANCE_FLUSH,
  ENTRANCE_REENTRANT,
  EXIT,
  FANNED_TIP,
  fittingsK,
  OPEN_VALVE,
  obstructionK,
} from "./laws/fittings.ts";
import { boreAreaM2, type Pipe } from "./laws/pipe.ts";
import { type LevelCurve, levelCurve } from "./level-curve.ts";
import type { DrainPipe, Link, Network, ReturnLeg, ReturnLine, Vessel } from "./network.ts";
import type { VesselKind } from "./types.ts";

/** Loss coefficient that sets each throttled drain, by drain id; absent = valve open. */
export type Throttles = ReadonlyMap<string, number>;

/** Plan of floor on which spilt water lies: it only has to be somewhere [m2] (modelling assumption). */
const FLOOR_M2 = 10;
/** Free height over a prefilter pad before it spills [m] (modelling assumption). */
const PAD_FREEBOARD_M = 0.05;
/** Height between stacked parts of a tower [m] (modelling assumption). */
const STACK_GAP_M = 0.02;
/** The return pipe's crown stands this far above the display's rim [m] (modelling assumption; hoses hang over the rim). */
const CROWN_OVER_RIM_M = 0.03;
/** Depth over which a pump that has begun to draw air loses its flow [m] (modelling assumption; a vortex forms first). */
const AIR_BAND_M = 0.01;
/** Depth and plan of a reservoir not described further [m] (modelling assumption). */
const RESERVOIR_DEPTH_M = 0.4;
/** Water speed through a clean pad under its own depth of head [m/s] by grade (modelling assumption; coarse foam, floss, fine felt). */
const PAD_CONDUCTIVITY_M_PER_S = { coarse: 0.1, medium: 0.04, fine: 0.015 } as const;

/** Collects vessels and links and remembers where they are. */
class Assembly {
  readonly vessels: Vessel[] = [];
  readonly links: Link[] = [];
  readonly drains: DrainPipe[] = [];
  readonly notes: string[] = [];
  primes = 0;
  private readonly places = new Map<string, number>();

  vessel(
    kind: VesselKind,
    id: string,
    name: string,
    partOf: string,
    curve: LevelCurve,
    planM2: number,
    rimZ: number | null,
  ): number {
    if (this.places.has(id)) throw new Error(`two vessels are called ${id}`);
    this.places.set(id, this.vessels.length);
    this.vessels.push({ id, name, kind, partOf, bottomZ: curve.z[0], rimZ, areaM2: planM2, curve });
    return this.vessels.length - 1;
  }

  box(kind: VesselKind, id: string, name: string, partOf: string, bottomZ: number, planM2: number, rimZ: number | null): number {
    return this.vessel(kind, id, name, partOf, levelCurve(bottomZ, planM2), planM2, rimZ);
  }

  /** Adds a link and returns its index. */
  link(link: Link): number {
    this.links.push(link);
    return this.links.length - 1;
  }

  rim(from: number, to: number, lengthM: number): void {
    const { id, name, rimZ } = this.vessels[from];
    if (rimZ === null) throw new Error(`${id} has no rim`);
    this.link({ kind: "rim", id: `rim ${id}`, name: `over the rim of ${name}`, from, to, crestZ: rimZ, lengthM });
  }

  place(id: string): number {
    const place = this.places.get(id);
    if (place === undefined) throw new Error(`nothing is called ${id}; known: ${[...this.places.keys()].join(", ")}`);
    return place;
  }
}

/**
 * Vessels and links of a rig. Elevations as in the rig; order: displays with their overflow boxes and drains, towers, chambers, return
 * line, reservoir, floor, air.
 * @throws when an id is used twice, a drain or tower points nowhere, or parts leave no room
 */
export function assemble(rig: Rig, throttles: Throttles): Network {
  const parts = new Assembly();
  const floor = parts.box("floor", "floor", "the floor", "", 0, FLOOR_M2, null);
  const air = parts.box("air", "air", "evaporated", "", 0, FLOOR_M2, null);
  for (const [index, chamber] of rig.sump.chambers.entries()) addChamber(parts, rig, chamber, index, floor);
  for (const tower of rig.towers) addTower(parts, tower, floor);
  for (const display of rig.displays) addDisplay(parts, display, throttles, floor);
  addBaffles(parts, rig);
  const returnLine = addReturnLine(parts, rig);
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
    topOff,
    primes: parts.primes,
    viscosityM2PerS: kinematicViscosityM2PerS(rig.waterTemperatureC, rig.salinityGPerKg),
    runningZ: rig.sump.runningLevelM,
    floor,
    notes: parts.notes,
  };
}

function addChamber(parts: Assembly, rig: Rig, chamber: Chamber, index: number, floor: number): void {
  const { sump } = rig;
  const plan = chamber.lengthM * sump.widthM;
  const displacements = [...chamber.displacements];
  if (chamber.submergedMedia && chamber.submergedMedia.volumeM3 > 0) {
    const { volumeM3, voidShare } = chamber.submergedMedia;
    displacements.push({ fromM: 0, toM: volumeM3 / plan, areaM2: plan * (1 - voidShare) });
  }
  for (const tower of rig.towers)
    if (tower.drainsTo === chamber.id && tower.grateZ < sump.heightM && tower.lengthM * tower.widthM <= plan)
      displacements.push({
        fromM: tower.grateZ,
        toM: tower.grateZ + tower.mediaDepthM,
        areaM2: tower.lengthM * tower.widthM * (1 - tower.media.voidShare),
      });
  const name = rig.sump.chambers.length === 1 ? "the sump" : `the ${chamber.role} chamber`;
  const place = parts.vessel("chamber", chamber.id, name, chamber.id, levelCurve(0, plan, displacements), plan, sump.heightM);
  const ends = index === 0 || index === sump.chambers.length - 1 ? sump.widthM : 0;
  parts.rim(place, floor, 2 * chamber.lengthM + ends);
}

function addBaffles(parts: Assembly, rig: Rig): void {
  const { chambers, baffles, widthM } = rig.sump;
  for (let n = 0; n + 1 < chambers.length; n++) {
    const baffle = baffles[n];
    if (!baffle) throw new Error(`${chambers.length} chambers need ${chambers.length - 1} baffles, ${baffles.length} given`);
    const from = parts.place(chambers[n].id);
    const to = parts.place(chambers[n + 1].id);
    const name = `baffle between ${parts.vessels[from].name} and ${parts.vessels[to].name}`;
    parts.link({
      kind: "weir",
      id: `over baffle ${n + 1}`,
      name: `over the ${name}`,
      from,
      to,
      crestZ: baffle.topM,
      lengthM: widthM,
      contractions: 0,
    });
    if (baffle.kind !== "over" && baffle.gapM > 0)
      parts.link({ kind: "gap", id: `under baffle ${n + 1}`, name: `under the ${name}`, from, to, widthM, gapM: baffle.gapM });
  }
}

function addTower(parts: Assembly, tower: Tower, floor: number): void {
  const plan = tower.lengthM * tower.widthM;
  const around = 2 * (tower.lengthM + tower.widthM);
  const top = tower.grateZ + tower.mediaDepthM;
  const chamber = parts.place(tower.drainsTo);
  const media = parts.box("media", `${tower.id} media`, `water on the media of ${tower.id}`, tower.id, tower.grateZ, plan, null);
  const trayBottom = top + STACK_GAP_M;
  const trayRim = trayBottom + tower.tray.depthM;
  const tray = parts.box("tray", `${tower.id} tray`, `the drip tray of ${tower.id}`, tower.id, trayBottom, plan, trayRim);
  const holes = tower.tray.holes * boreAreaM2(tower.tray.holeDiameterM);
  parts.link({
    kind: "hole",
    id: `${tower.id} plate`,
    name: `drip holes of ${tower.id}`,
    from: tray,
    to: media,
    areaM2: holes,
    z: trayBottom,
  });
  parts.rim(tray, tower.tray.spillsTo === "floor" ? floor : chamber, around);
  parts.link({
    kind: "film",
    id: `${tower.id} film`,
    name: `films down the media of ${tower.id}`,
    from: media,
    to: chamber,
    planM2: plan,
    depthM: tower.mediaDepthM,
    specificSurfacePerM: tower.media.specificSurfaceM2PerM3,
  });
  if (tower.prefilter) addPrefilter(parts, tower, tower.prefilter, { tray, chamber, floor }, trayRim + STACK_GAP_M);
}

function addPrefilter(
  parts: Assembly,
  tower: Tower,
  pad: Prefilter,
  to: { tray: number; chamber: number; floor: number },
  bottomZ: number,
): void {
  const rim = bottomZ + pad.thicknessM + PAD_FREEBOARD_M;
  const pan = parts.box("prefilter", `${tower.id} prefilter`, `the prefilter of ${tower.id}`, tower.id, bottomZ, pad.areaM2, rim);
  const open = Math.max(0, 1 - pad.blindedShare);
  const conductanceM2PerS = (PAD_CONDUCTIVITY_M_PER_S[pad.grade] * pad.areaM2 * open) / pad.thicknessM;
  parts.link({
    kind: "pad",
    id: `${tower.id} pad`,
    name: `through the prefilter of ${tower.id}`,
    from: pan,
    to: to.tray,
    conductanceM2PerS,
  });
  const spill = pad.spillsTo === "media" ? to.tray : pad.spillsTo === "floor" ? to.floor : to.chamber;
  parts.rim(pan, spill, 4 * Math.sqrt(pad.areaM2));
}

function addDisplay(parts: Assembly, display: Display, throttles: Throttles, floor: number): void {
  const plan = display.lengthM * display.widthM;
  const curve = levelCurve(display.bottomZ, plan, display.displacements);
  const rim = display.bottomZ + display.heightM;
  const place = parts.vessel("display", display.id, display.name, display.id, curve, plan, rim);
  parts.rim(place, floor, 2 * (display.lengthM + display.widthM));
  for (const overflow of display.overflows) addOverflow(parts, place, overflow, throttles, floor);
}

function addOverflow(parts: Assembly, display: number, overflow: Overflow, throttles: Throttles, floor: number): void {
  const { box, siphon } = overflow;
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
      outletZ: siphon.outletZ,
      prime: parts.primes++,
    });
  } else parts.link({ ...weir, id: weirId, name: weirName, from: display, to: place });
  for (const drain of overflow.drains) addDrain(parts, overflow.id, place, drain, throttles.get(drain.id) ?? 0);
}

/** Vessel that takes what a drain or branch brings: a chamber, or the top of a tower. */
function receiver(parts: Assembly, id: string): number {
  for (const suffix of [" prefilter", " tray", ""]) {
    const found = parts.vessels.findIndex((vessel) => vessel.id === id + suffix);
    if (found >= 0) return found;
  }
  return parts.place(id);
}

function addDrain(parts: Assembly, overflowId: string, box: number, drain: Drain, throttleK: number): void {
  const share = Math.max(0, Math.min(1, drain.openShare));
  const pipe: Pipe = {
    boreM: drain.boreM,
    lengthM: Math.max(drain.lengthM, 0.1),
    roughnessM: drain.roughnessM,
    lossK: ENTRANCE_FLUSH + fittingsK(drain.fittings, drain.boreM) + EXIT + obstructionK(share) + throttleK,
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
    mouthBoreM: share === 0 ? 0 : drain.boreM * Math.sqrt(share),
    pipe,
    inletZ,
    outletZ: drain.outletZ,
    inletLink,
    outletLink,
  });
}

function addReturnLine(parts: Assembly, rig: Rig): ReturnLine {
  const { pump, riser, nozzles, branches, checkValve, checkValveWeepM3PerS, valveOpenShare } = rig.return;
  const source = parts.place(rig.sump.chambers[rig.sump.chambers.length - 1].id);
  const valve = checkValve === "none" ? 0 : CHECK_VALVE;
  const riserPipe: Pipe = {
    boreM: riser.boreM,
    lengthM: riser.lengthM,
    roughnessM: riser.roughnessM,
    lossK: fittingsK(riser.fittings, riser.boreM) + OPEN_VALVE + obstructionK(valveOpenShare) + valve,
  };
  const room = (boreAreaM2(riser.boreM) * riser.lengthM) / nozzles.length;
  const legs = nozzles.map((nozzle): ReturnLeg => {
    const display = parts.place(nozzle.display);
    const rim = parts.vessels[display].rimZ ?? nozzle.tipZ;
    const crownZ = Math.max(rim, nozzle.tipZ, nozzle.breakHole?.z ?? nozzle.tipZ) + CROWN_OVER_RIM_M;
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
      tipZ: nozzle.tipZ,
      crownZ,
      hole: breakHole
        ? { z: breakHole.z, diameterM: breakHole.diameterM, areaM2: boreAreaM2(breakHole.diameterM) * breakHole.count }
        : null,
      boreM: nozzle.boreM,
      inLink,
      outLink,
    };
  });
  return {
    source,
    curve: pump.curve,
    intakeZ: pump.intakeM,
    airBandM: AIR_BAND_M,
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
