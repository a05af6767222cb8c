// The place of every part of a rig in the section drawing, in metres: x to the right, z up from the inside bottom of the
// sump.
// Pure geometry from the rig, no drawing. Heights and lengths along x are those of the rig. If the rig gives no length
// (a box with a plan area only, a reservoir with a volume only), the part gets a plausible proportion.
import type { Rig } from "../../models/rig.ts";
import { placeDrains, placeOverflow, placeTubes, placeWeirFall } from "./above.ts";
import { placeBaffleFalls, placeChambers, placeClosed, placePump, placeRain, placeReservoir, placeTower } from "./below.ts";
import { placeBranches, placeReactors, reactorVessels } from "./branches.ts";
import { placeHoses, placeReturns } from "./pipes.ts";
import type { Box, DisplayPlace, Layout, Point, VesselPlace } from "./places.ts";
import { joinedEndX, placeJoined, placeJoints, placeSocks, sumpVessels } from "./sump-parts.ts";

const BOARD_M = 0.04;
const UNDER_BOARD_M = 0.05;
/** Gap between neighbouring displays, with space for a return pipe. */
const BETWEEN_M = 0.22;
/** Gap between the sump and a reservoir or closed filter. */
const BESIDE_M = 0.09;

/** Layout of one rig. It exists for every rig that passed the scenario checks. */
export function layout(rig: Rig): Layout {
  const { sump: tank, topOff } = rig;
  const length = rig.displays.reduce((sum, d) => sum + d.lengthM, 0) + BETWEEN_M * (rig.displays.length - 1);
  const sumpX0 = Math.max(0, Math.min(0.06, (length - tank.lengthM) / 2));
  const sump: Box = { x0: sumpX0, x1: sumpX0 + tank.lengthM, z0: 0, z1: tank.heightM };
  const floorZ = -Math.max(0.03, tank.glassM + 0.02);
  const boardZ = Math.min(...rig.displays.map((d) => d.bottomZ - d.glassM)) - BOARD_M;
  const manifoldZ = boardZ - UNDER_BOARD_M;

  const { chambers, baffles } = placeChambers(rig, sumpX0);
  const chamberOf = (id: string): Box => (chambers.find((c) => c.chamber.id === id) ?? chambers[0]!).box;
  const towers = rig.towers.map((t) => placeTower(t, chamberOf(t.drainsTo), sump));
  const pump = placePump(rig, chambers.at(-1)!.box);
  const beside = (n: number): number => Math.max(-(n + 1) * (pump.x1 - pump.x0 + 0.01), chambers.at(-1)!.box.x0 - pump.x0);
  const morePumps = rig.moreReturns.map((_, n): Box => ({ ...pump, x0: pump.x0 + beside(n), x1: pump.x1 + beside(n) }));
  const socks = placeSocks(chambers);
  const joined = placeJoined(tank.joined, sump.x1 + tank.glassM + BESIDE_M, BESIDE_M);
  const sumpEndX = joinedEndX(joined, rig, sump);
  const reservoir = placeReservoir(rig, sumpEndX + BESIDE_M);
  const closed = placeClosed(rig.closedFilters, (reservoir?.x1 ?? sumpEndX) + BESIDE_M, floorZ);
  const besideX = (closed.at(-1)?.box.x1 ?? reservoir?.x1 ?? sumpEndX) + BESIDE_M;
  const reactors = placeReactors(rig, besideX, floorZ, chamberOf);

  let x = 0;
  const bare = rig.displays.map((display): DisplayPlace => {
    const inside: Box = { x0: x, x1: x + display.lengthM, z0: display.bottomZ, z1: display.bottomZ + display.heightM };
    x = inside.x1 + BETWEEN_M;
    return { display, inside, overflows: display.overflows.map((o, i) => placeOverflow(display, inside, o, i)), nozzles: [] };
  });
  const returns = bare.map((place) => placeReturns(rig, place, [pump, ...morePumps], manifoldZ));
  const displays = bare.map((place, i) => ({ ...place, nozzles: returns[i]!.nozzles }));
  const hoses = closed.flatMap((place, i) => {
    const display = displays.find((d) => d.display.id === place.filter.on);
    const vessel = display?.inside ?? chamberOf(place.filter.on);
    const crest = display ? Math.max(...display.overflows.map((o) => o.crest.z)) : tank.runningLevelM;
    // Keeps clear of the return pipes beside the display.
    const beside = display ? display.inside.x1 + display.display.glassM + 0.11 + 0.07 * i : place.box.x0;
    return placeHoses(place, vessel, crest, beside);
  });
  const overflows = displays.flatMap((d) => d.overflows.map((o) => ({ ...d, o })));
  const boxes = overflows.filter(({ o }) => o.overflow.kind !== "standpipe");
  const pipes = [
    ...overflows.flatMap(({ o, inside }) => [
      ...placeTubes(o, inside),
      ...placeDrains(o, boardZ, towers, [...chambers, ...joined.map(({ tank, box }) => ({ chamber: tank, box }))]),
    ]),
    ...returns.flatMap((r) => r.pipes),
    ...placeBranches(rig, [pump, ...morePumps], reactors, towers, chamberOf),
    ...placeJoints(joined, chamberOf),
    ...hoses,
  ];
  const vessels: VesselPlace[] = [
    ...chambers.map(({ chamber, box }): VesselPlace => ({ id: chamber.id, kind: "chamber", name: chamber.role, box })),
    ...displays.map(({ display, inside }): VesselPlace => ({ id: display.id, kind: "display", name: display.name, box: inside })),
    ...boxes.map(({ o }): VesselPlace => ({ id: o.overflow.id, kind: "box", name: "overflow box", box: o.inside })),
  ];
  vessels.push(...sumpVessels(socks, joined), ...reactorVessels(reactors));
  if (topOff && reservoir) vessels.push({ id: "top-off", kind: "reservoir", name: "top-off reservoir", box: reservoir });

  const xs = [
    sump.x0 - tank.glassM,
    sumpEndX,
    ...towers.map((t) => t.shell.x0),
    ...displays.flatMap((d) => [d.inside.x0 - d.display.glassM, d.inside.x1 + d.display.glassM]),
    ...overflows.map(({ o }) => o.inside.x0 - 0.01),
    ...(reservoir ? [reservoir.x1] : []),
    ...closed.map((f) => f.box.x1),
    ...reactors.map((r) => r.box.x1),
    ...pipes.flatMap((p) => p.points.map((q) => q[0] + 0.02)),
  ];
  const tops = [
    ...displays.map((d) => d.inside.z1 + 0.02),
    ...towers.map((t) => t.inlet[1]),
    ...reactors.map((r) => r.box.z1),
    ...joined.map((j) => j.box.z1 + 0.02),
    ...pipes.flatMap((p) => p.points.map((q) => q[1] + p.boreM)),
  ];
  const riser = pipes.find((p) => p.kind === "riser")?.points;
  const onRiser = (above: number): Point | null => (riser?.[1] ? [riser[1][0], (pump.z1 + riser[1][1]) / 2 + above] : null);
  return {
    bounds: { x0: Math.min(...xs), x1: Math.max(...xs), z0: floorZ - 0.03, z1: Math.max(...tops) + 0.02 },
    floorZ,
    displays,
    towers,
    sump,
    sumpGlassM: tank.glassM,
    chambers,
    baffles,
    socks,
    joined,
    pump,
    morePumps,
    closed,
    reactors,
    checkValve: rig.return.checkValve === "none" ? null : onRiser(0.05),
    throttle: rig.return.valveOpenShare < 1 ? onRiser(0.14) : null,
    pipes,
    falls: [
      ...boxes.map(({ o, display, inside }) => placeWeirFall(o, display, inside)),
      ...towers.map((t) => placeRain(t, chamberOf(t.tower.drainsTo))),
      ...placeBaffleFalls(chambers, baffles),
    ],
    vessels,
    reservoir,
  };
}
