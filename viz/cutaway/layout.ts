// Where every part of a rig stands in the section drawing, in metres: x to the right, z up from the inside bottom of the sump.
// Pure geometry from the rig, no drawing. Heights are the rig's own; lengths along x are the rig's own; where the rig gives
// no length (a box known by its plan area, a reservoir known by its volume) the part is drawn at a stated likely proportion.
import type { Chamber, Display, Drain, Overflow, Rig, Tower } from "../../models/rig.ts";

/** An upright rectangle. */
export interface Box {
  readonly x0: number;
  readonly x1: number;
  readonly z0: number;
  readonly z1: number;
}

export type Point = readonly [x: number, z: number];

/** Space that water can stand in; `id` is that of the vessel in the results. */
export interface VesselPlace {
  readonly id: string;
  readonly kind: "display" | "box" | "chamber" | "reservoir";
  readonly name: string;
  readonly box: Box;
}

export type PipeKind = "drain" | "siphon" | "riser" | "branch";

/** A pipe by its centre line in the direction of normal flow. */
export interface PipePlace {
  readonly id: string;
  readonly kind: PipeKind;
  readonly label: string;
  readonly boreM: number;
  readonly points: readonly Point[];
}

/** Water falling freely, or passing over or under an edge. */
export interface FallPlace {
  readonly id: string;
  readonly from: string;
  readonly to: string;
  readonly points: readonly Point[];
}

export interface OverflowPlace {
  readonly overflow: Overflow;
  readonly inside: Box;
  readonly crest: { readonly x: number; readonly z: number };
  readonly hung: boolean;
}

export interface DisplayPlace {
  readonly display: Display;
  readonly inside: Box;
  readonly overflows: readonly OverflowPlace[];
  readonly nozzles: readonly NozzlePlace[];
}

export interface NozzlePlace {
  readonly id: string;
  readonly x: number;
  readonly tipZ: number;
  readonly hole: Point | null;
}

export interface TowerPlace {
  readonly tower: Tower;
  readonly media: Box;
  readonly tray: Box;
  readonly pad: Box | null;
  readonly shell: Box;
  /** Where the drain hose ends. */
  readonly inlet: Point;
}

export interface ChamberPlace {
  readonly chamber: Chamber;
  readonly box: Box;
}

export interface BafflePlace {
  readonly box: Box;
  readonly kind: "over" | "under" | "over and under";
}

export interface Layout {
  /** Everything that is drawn, without the margins for dimensions. */
  readonly bounds: Box;
  readonly floorZ: number;
  readonly displays: readonly DisplayPlace[];
  readonly towers: readonly TowerPlace[];
  readonly sump: Box;
  readonly sumpGlassM: number;
  readonly chambers: readonly ChamberPlace[];
  readonly baffles: readonly BafflePlace[];
  readonly pump: Box;
  readonly checkValve: Point | null;
  readonly throttle: Point | null;
  readonly pipes: readonly PipePlace[];
  readonly falls: readonly FallPlace[];
  readonly vessels: readonly VesselPlace[];
  readonly reservoir: Box | null;
  readonly cabinet: Box | null;
}

const STAND_TOP_M = 0.04;
const GAP_M = 0.03;
const PIPE_CLEARANCE_M = 0.05;
const MIN_BOX_M = 0.07;

const widthOf = (b: Box): number => b.x1 - b.x0;
const midOf = (b: Box): number => (b.x0 + b.x1) / 2;

function placeChambers(rig: Rig, sumpX0: number): { chambers: ChamberPlace[]; baffles: BafflePlace[] } {
  const { sump } = rig;
  const plates = sump.baffles.length;
  const sum = sump.chambers.reduce((total, c) => total + c.lengthM, 0);
  const plateM = plates === 0 ? 0 : Math.min(0.012, Math.max(0.005, (sump.lengthM - sum) / plates));
  const scale = (sump.lengthM - plates * plateM) / sum;
  const chambers: ChamberPlace[] = [];
  const baffles: BafflePlace[] = [];
  let x = sumpX0;
  sump.chambers.forEach((chamber, i) => {
    const x1 = x + chamber.lengthM * scale;
    chambers.push({ chamber, box: { x0: x, x1, z0: 0, z1: sump.heightM } });
    const baffle = sump.baffles[i];
    if (baffle) {
      const z0 = baffle.kind === "over" ? 0 : baffle.gapM;
      baffles.push({ box: { x0: x1, x1: x1 + plateM, z0, z1: Math.max(baffle.topM, z0 + 0.01) }, kind: baffle.kind });
    }
    x = x1 + plateM;
  });
  return { chambers, baffles };
}

/** Air between media, tray and pad, and wall above the pad: as the hydraulic model stacks them. */
const STACK_M = 0.02;

function placeTower(tower: Tower, chamber: Box, sump: Box): TowerPlace {
  const x0 = Math.max(sump.x0 + 0.004, Math.min(midOf(chamber) - tower.lengthM / 2, sump.x1 - tower.lengthM));
  const x1 = x0 + tower.lengthM;
  const mediaTop = tower.grateZ + tower.mediaDepthM;
  const trayZ = mediaTop + STACK_M;
  const tray = { x0, x1, z0: trayZ, z1: trayZ + tower.tray.depthM };
  const padZ = tray.z1 + STACK_M;
  const pad = tower.prefilter ? { x0: x0 + 0.006, x1: x1 - 0.006, z0: padZ, z1: padZ + tower.prefilter.thicknessM } : null;
  const top = (pad?.z1 ?? tray.z1) + STACK_M;
  return {
    tower,
    media: { x0, x1, z0: tower.grateZ, z1: mediaTop },
    tray,
    pad,
    shell: { x0: x0 - 0.004, x1: x1 + 0.004, z0: tower.grateZ - 0.01, z1: top },
    inlet: [midOf(tray), top],
  };
}

function placeOverflow(display: Display, inside: Box, overflow: Overflow, index: number): OverflowPlace {
  const hung = overflow.kind === "hang-on";
  const depth = Math.max(0.1, Math.min(overflow.weirLengthM, display.widthM));
  const wide = Math.max(MIN_BOX_M, Math.min(overflow.box.planAreaM2 / depth, inside.x1 - inside.x0 > 0.5 ? 0.25 : 0.14));
  const z0 = overflow.box.floorZ;
  const z1 = hung ? z0 + overflow.box.depthM : overflow.crestZ;
  // The first stands at the left end, a second at the right end, further ones in between.
  const right = index % 2 === 1;
  const step = Math.floor(index / 2) * (wide + GAP_M);
  const outside = display.glassM + GAP_M;
  const x0 = right
    ? hung
      ? inside.x1 + outside + step
      : inside.x1 - wide - step
    : hung
      ? inside.x0 - outside - wide - step
      : inside.x0 + step;
  const box = { x0, x1: x0 + wide, z0: Math.max(z0, hung ? -1e9 : display.bottomZ), z1 };
  const crestX = hung ? (right ? inside.x1 - MIN_BOX_M : inside.x0 + MIN_BOX_M) : right ? box.x0 : box.x1;
  return { overflow, inside: box, crest: { x: crestX, z: overflow.crestZ }, hung };
}

function drainTarget(drain: Drain, towers: readonly TowerPlace[], chambers: readonly ChamberPlace[]): Point {
  const tower = towers.find((t) => t.tower.id === drain.to);
  if (tower) return [tower.inlet[0], Math.max(tower.inlet[1], drain.outletZ)];
  const chamber = chambers.find((c) => c.chamber.id === drain.to) ?? chambers[0]!;
  return [midOf(chamber.box), drain.outletZ];
}

/** Layout of one rig. Throws nothing; every rig that passed the scenario checks has a layout. */
export function layout(rig: Rig): Layout {
  const gapBetween = 0.22;
  const displaysLength = rig.displays.reduce((sum, d) => sum + d.lengthM, 0) + gapBetween * (rig.displays.length - 1);
  const sumpX0 = Math.max(0, Math.min(0.06, (displaysLength - rig.sump.lengthM) / 2));
  const sump: Box = { x0: sumpX0, x1: sumpX0 + rig.sump.lengthM, z0: 0, z1: rig.sump.heightM };
  const { chambers, baffles } = placeChambers(rig, sumpX0);
  const chamberOf = (id: string): Box => (chambers.find((c) => c.chamber.id === id) ?? chambers[0]!).box;
  const towers = rig.towers.map((t) => placeTower(t, chamberOf(t.drainsTo), sump));
  const underside = Math.min(...rig.displays.map((d) => d.bottomZ - d.glassM));

  const vessels: VesselPlace[] = chambers.map((c) => ({
    id: c.chamber.id,
    kind: "chamber",
    name: c.chamber.role,
    box: c.box,
  }));
  const pipes: PipePlace[] = [];
  const falls: FallPlace[] = [];
  const displays: DisplayPlace[] = [];

  const last = chambers.at(-1)!;
  const pumpWide = Math.min(0.11, widthOf(last.box) * 0.55);
  const pumpX = last.box.x1 - pumpWide / 2 - Math.min(0.03, widthOf(last.box) * 0.12);
  const pump: Box = {
    x0: pumpX - pumpWide / 2,
    x1: pumpX + pumpWide / 2,
    z0: 0.006,
    z1: Math.max(0.05, Math.min(0.11, rig.return.pump.intakeM * 0.95)),
  };
  const manifoldZ = underside - STAND_TOP_M - PIPE_CLEARANCE_M;

  let x = 0;
  for (const display of rig.displays) {
    const inside: Box = { x0: x, x1: x + display.lengthM, z0: display.bottomZ, z1: display.bottomZ + display.heightM };
    const overflows = display.overflows.map((o, i) => placeOverflow(display, inside, o, i));
    vessels.push({ id: display.id, kind: "display", name: display.name, box: inside });
    for (const o of overflows) {
      vessels.push({ id: o.overflow.id, kind: "box", name: "overflow box", box: o.inside });
      const mid = midOf(o.inside);
      const toward = o.crest.x < midOf(inside) ? -1 : 1;
      if (o.hung && o.overflow.siphon) {
        const tube = o.overflow.siphon;
        const inX = o.crest.x + toward * MIN_BOX_M * 0.45;
        const outX = toward < 0 ? o.inside.x1 - 0.02 : o.inside.x0 + 0.02;
        pipes.push({
          id: `tubes ${o.overflow.id}`,
          kind: "siphon",
          label: "siphon tube",
          boreM: tube.boreM,
          points: [
            [inX, tube.inletZ],
            [inX, tube.crownZ],
            [outX, tube.crownZ],
            [outX, tube.outletZ],
          ],
        });
      }
      const dropZ = o.hung ? o.inside.z0 : o.crest.z - 0.004;
      falls.push({
        id: `${o.overflow.id}.weir`,
        from: display.id,
        to: o.overflow.id,
        points: [
          [o.crest.x - toward * 0.05, o.crest.z + 0.012],
          [o.crest.x, o.crest.z + 0.01],
          [o.crest.x + toward * 0.02, dropZ - 0.02],
          [o.crest.x + toward * 0.026, Math.max(o.inside.z0, dropZ - 0.14)],
        ],
      });
      o.overflow.drains.forEach((drain, i) => {
        const n = o.overflow.drains.length;
        const px = mid + (i - (n - 1) / 2) * Math.max(drain.boreM * 1.35, Math.min(0.04, (widthOf(o.inside) - 0.02) / n));
        const target = drainTarget(drain, towers, chambers);
        const tx = target[0] + (i - (n - 1) / 2) * 0.035;
        const elbowZ = Math.min(
          underside - STAND_TOP_M - 0.02 - i * 0.03,
          o.hung ? 1e9 : underside - STAND_TOP_M - 0.02 - i * 0.03,
        );
        const fallZ = Math.max(target[1] + 0.03, elbowZ - Math.abs(tx - px) * 0.5);
        pipes.push({
          id: drain.id,
          kind: "drain",
          label: drain.kind === "open" ? "drain" : drain.kind,
          boreM: drain.boreM,
          points: [
            [px, o.inside.z0 + drain.inletM],
            [px, Math.max(fallZ, elbowZ)],
            [tx, Math.min(fallZ, elbowZ)],
            [tx, target[1]],
          ],
        });
      });
    }
    displays.push({ display, inside, overflows, nozzles: [] });
    x = inside.x1 + gapBetween;
  }

  const placed = displays.map((place, displayIndex): DisplayPlace => {
    const nozzles = rig.return.nozzles.filter((n) => n.display === place.display.id);
    const { inside } = place;
    const rimZ = inside.z1;
    const outside = inside.x1 + place.display.glassM + PIPE_CLEARANCE_M;
    const list = nozzles.map((nozzle, i): NozzlePlace => {
      const inX = inside.x1 - 0.06 - i * 0.09;
      const overZ = rimZ + 0.045 + i * 0.05;
      const upX = outside + i * 0.035;
      const points: Point[] = [
        [midOf(pump), pump.z1],
        [midOf(pump), manifoldZ],
        [upX, manifoldZ],
        [upX, overZ],
        [inX, overZ],
        [inX, nozzle.tipZ],
      ];
      if (nozzle.jet === "fanned") points.push([inX - 0.035, nozzle.tipZ]);
      pipes.push({ id: nozzle.id, kind: "riser", label: "return", boreM: rig.return.riser.boreM, points });
      return { id: nozzle.id, x: inX, tipZ: nozzle.tipZ, hole: nozzle.breakHole ? [inX, nozzle.breakHole.z] : null };
    });
    return { ...place, nozzles: displayIndex < 0 ? [] : list };
  });

  for (const [i, branch] of rig.return.branches.entries()) {
    const target = chamberOf(branch.to);
    const bz = Math.max(rig.sump.heightM + 0.05, manifoldZ - 0.08 - i * 0.04);
    pipes.push({
      id: branch.id,
      kind: "branch",
      label: "branch",
      boreM: branch.boreM,
      points: [
        [midOf(pump), bz],
        [midOf(target), bz],
        [midOf(target), branch.outletZ],
      ],
    });
  }

  for (const t of towers) {
    const chamber = chamberOf(t.tower.drainsTo);
    falls.push({
      id: `${t.tower.id}.rain`,
      from: t.tower.id,
      to: t.tower.drainsTo,
      points: [
        [midOf(t.media), t.media.z0 - 0.012],
        [Math.min(chamber.x1, Math.max(chamber.x0, midOf(t.media))), Math.max(0, t.media.z0 - 0.2)],
      ],
    });
  }
  chambers.slice(0, -1).forEach((c, i) => {
    const baffle = baffles[i];
    const next = chambers[i + 1];
    if (!baffle || !next) return;
    const z = baffle.kind === "under" ? baffle.box.z0 / 2 : baffle.box.z1 + 0.01;
    falls.push({
      id: `${c.chamber.id}>${next.chamber.id}`,
      from: c.chamber.id,
      to: next.chamber.id,
      points: [
        [baffle.box.x0 - 0.05, z],
        [baffle.box.x1, z],
        [baffle.box.x1 + 0.05, baffle.kind === "under" ? z : z - 0.04],
      ],
    });
  });

  const glass = rig.sump.glassM;
  const floorZ = -Math.max(0.03, glass + 0.02);
  let reservoir: Box | null = null;
  if (rig.topOff) {
    const high = Math.min(0.35, Math.max(0.15, rig.sump.heightM * 0.85));
    const long = Math.max(0.06, rig.topOff.reservoirM3 / (high * Math.max(0.12, rig.sump.widthM * 0.8)));
    const x0 = sump.x1 + glass + 0.09;
    reservoir = { x0, x1: x0 + long, z0: 0, z1: high };
    vessels.push({ id: "top-off", kind: "reservoir", name: "top-off reservoir", box: reservoir });
  }

  const rightmost = Math.max(
    sump.x1 + glass,
    reservoir?.x1 ?? 0,
    ...placed.map((p) => p.inside.x1 + p.display.glassM),
    ...pipes.flatMap((p) => p.points.map((q) => q[0] + 0.02)),
  );
  const leftmost = Math.min(
    sump.x0 - glass,
    ...towers.map((t) => t.shell.x0),
    ...placed.flatMap((p) => [p.inside.x0 - p.display.glassM, ...p.overflows.map((o) => o.inside.x0 - 0.01)]),
  );
  const cabinet: Box | null = rig.cabinet
    ? {
        x0: leftmost,
        x1: leftmost + Math.max(rig.cabinet.lengthM, rightmost - leftmost),
        z0: floorZ,
        z1: underside - STAND_TOP_M,
      }
    : null;
  const top = Math.max(
    ...placed.map((p) => p.inside.z1 + 0.02),
    ...towers.map((t) => t.inlet[1]),
    ...pipes.flatMap((p) => p.points.map((q) => q[1] + p.boreM)),
  );
  const riserUp = pipes.find((p) => p.kind === "riser")?.points[1];
  return {
    bounds: { x0: leftmost, x1: rightmost, z0: floorZ - 0.03, z1: top + 0.02 },
    floorZ,
    displays: placed,
    towers,
    sump,
    sumpGlassM: glass,
    chambers,
    baffles,
    pump,
    checkValve: rig.return.checkValve === "none" || !riserUp ? null : [riserUp[0], (pump.z1 + riserUp[1]) / 2 + 0.05],
    throttle: riserUp && rig.return.valveOpenShare < 1 ? [riserUp[0], (pump.z1 + riserUp[1]) / 2 + 0.14] : null,
    pipes,
    falls,
    vessels,
    reservoir,
    cabinet,
  };
}
