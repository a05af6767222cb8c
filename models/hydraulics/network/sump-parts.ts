// The sump as vessels and links: chambers with their socks, baffles, and tanks joined to it.

import { type Chamber, type FilterSock, type Rig, returnLines } from "../../rig.ts";
import { ENTRANCE_FLUSH, EXIT } from "../laws/fittings.ts";
import { type LevelCurve, levelCurve } from "../laws/level-curve.ts";
import { boreAreaM2 } from "../laws/pipe.ts";
import { CLOTH_PER_S } from "../laws/sock.ts";
import type { Assembly } from "./assembly.ts";
import { standsIn } from "./branch-parts.ts";

/** Roughness of smooth plastic pipe [m] (Moody 1944, drawn tubing). */
const SMOOTH_M = 1.5e-6;

/** Adds joined tanks first, so that the return chamber is the last of the sump's vessels. */
export function addSump(parts: Assembly, rig: Rig, floor: number): void {
  const { sump } = rig;
  for (const tank of sump.joined) {
    const plan = tank.lengthM * tank.widthM;
    const place = parts.box("chamber", tank.id, `the ${tank.id}`, tank.id, tank.bottomZ, plan, tank.bottomZ + tank.heightM);
    parts.rim(place, floor, 2 * (tank.lengthM + tank.widthM));
  }
  for (const [index, chamber] of sump.chambers.entries()) addChamber(parts, rig, chamber, index, floor);
  for (const { id, to, pipe } of sump.joined) {
    const [from, chamber] = [parts.place(id), parts.place(to)];
    parts.link({
      kind: "full pipe",
      id: `joint ${id}`,
      name: `pipe between ${parts.vessels[from].name} and ${parts.vessels[chamber].name}`,
      from,
      to: chamber,
      pipe: { boreM: pipe.boreM, lengthM: pipe.lengthM, roughnessM: SMOOTH_M, lossK: ENTRANCE_FLUSH + EXIT },
      count: pipe.count,
      inletZ: pipe.z,
      outletZ: pipe.z,
      prime: -1,
    });
  }
}

/**
 * Level-volume curve of a sump chamber, minus the objects in it: equipment, submerged media, the foot of a tower.
 * @throws NoRoomError when they fill its plan area
 */
export function chamberCurve(rig: Rig, chamber: Chamber): LevelCurve {
  const plan = chamber.lengthM * rig.sump.widthM;
  const displacements = [...chamber.displacements];
  if (chamber.submergedMedia && chamber.submergedMedia.volumeM3 > 0) {
    const { volumeM3, voidShare } = chamber.submergedMedia;
    displacements.push({ fromM: 0, toM: volumeM3 / plan, areaM2: plan * (1 - voidShare) });
  }
  if (chamber.sock) {
    const { bottomZ, rimZ } = chamber.sock;
    displacements.push({ fromM: bottomZ, toM: rimZ, areaM2: sockPlanM2(chamber.sock) });
  }
  for (const line of returnLines(rig)) for (const branch of line.branches) displacements.push(...standsIn(branch, chamber.id));
  for (const tower of rig.towers)
    if (tower.drainsTo === chamber.id && tower.grateZ < rig.sump.heightM && tower.lengthM * tower.widthM <= plan)
      displacements.push({
        fromM: tower.grateZ,
        toM: tower.grateZ + tower.mediaDepthM,
        areaM2: tower.lengthM * tower.widthM * (1 - tower.media.voidShare),
      });
  return levelCurve(0, plan, displacements);
}

function addChamber(parts: Assembly, rig: Rig, chamber: Chamber, index: number, floor: number): void {
  const { sump } = rig;
  const plan = chamber.lengthM * sump.widthM;
  const name = rig.sump.chambers.length === 1 ? "the sump" : `the ${chamber.role} chamber`;
  const place = parts.vessel("chamber", chamber.id, name, chamber.id, chamberCurve(rig, chamber), plan, sump.heightM);
  const ends = Number(index === 0) + Number(index === sump.chambers.length - 1);
  parts.rim(place, floor, 2 * chamber.lengthM + ends * sump.widthM);
  if (chamber.sock) addSock(parts, chamber.sock, chamber.id, place, floor);
}

const sockPlanM2 = ({ count, diameterM }: FilterSock): number => count * boreAreaM2(diameterM);

/** Socks as one vessel in their chamber. */
function addSock(parts: Assembly, sock: FilterSock, chamberId: string, chamber: number, floor: number): void {
  const { kind, count, diameterM, bottomZ, rimZ, grade, blindedShare, spillsTo } = sock;
  const name = kind === "sock" ? "the filter sock" : "the fleece roller";
  const around = count * Math.PI * diameterM;
  const place = parts.box("sock", `${chamberId} sock`, name, chamberId, bottomZ, sockPlanM2(sock), rimZ);
  parts.link({
    kind: "sock",
    id: `cloth ${chamberId}`,
    name: `through ${name}`,
    from: place,
    to: chamber,
    perS: CLOTH_PER_S[grade] * Math.max(0, 1 - blindedShare),
    aroundM: around,
    bottomM2: sockPlanM2(sock),
    bottomZ,
  });
  parts.rim(place, spillsTo === "floor" ? floor : chamber, around);
}

/** Plates between the chambers. @throws Error when there are not as many as the chambers need */
export function addBaffles(parts: Assembly, rig: Rig): void {
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
