// Filter socks in the chambers of the sump, and tanks joined to it: their places and their drawing.
import type { JoinedTank, Rig } from "../../models/rig.ts";
import { type Child, h } from "../view/markup.ts";
import {
  type Box,
  type ChamberPlace,
  type JoinedPlace,
  midOf,
  type PipePlace,
  type SockPlace,
  type VesselPlace,
} from "./places.ts";
import { pathOf, type Sheet } from "./sheet.ts";

const GAP_M = 0.01;

/** Socks side by side in the middle of their chamber, where the drains end. */
export const placeSocks = (chambers: readonly ChamberPlace[]): readonly SockPlace[] =>
  chambers.flatMap(({ chamber, box }): readonly SockPlace[] => {
    const { sock, id } = chamber;
    if (!sock) return [];
    const shown = Math.max(1, Math.min(sock.count, Math.floor((box.x1 - box.x0) / (sock.diameterM + GAP_M))));
    const wide = Math.min(sock.diameterM, box.x1 - box.x0 - 2 * GAP_M);
    const x0 = midOf(box) - (shown * wide + (shown - 1) * GAP_M) / 2;
    const boxes = Array.from({ length: shown }, (_, i): Box => {
      const left = x0 + i * (wide + GAP_M);
      return { x0: left, x1: left + wide, z0: sock.bottomZ, z1: sock.rimZ };
    });
    return [{ chamber: id, sock, boxes }];
  });

/** Joined tanks side by side from `x0` on. */
export function placeJoined(tanks: readonly JoinedTank[], x0: number, gapM: number): readonly JoinedPlace[] {
  let x = x0;
  return tanks.map((tank) => {
    const left = x + tank.glassM;
    const box = { x0: left, x1: left + tank.lengthM, z0: tank.bottomZ, z1: tank.bottomZ + tank.heightM };
    x = box.x1 + tank.glassM + gapM;
    return { tank, box };
  });
}

/** The pipes that join them. A pipe to a chamber that is not at the wall passes before the others. */
export const placeJoints = (joined: readonly JoinedPlace[], chamberOf: (id: string) => Box): readonly PipePlace[] =>
  joined.map(({ tank, box }) => {
    const { pipe, id, to } = tank;
    return {
      id: `joint ${id}`,
      kind: "joint",
      label: "joint",
      boreM: pipe.boreM,
      points: [
        [box.x0, pipe.z],
        [chamberOf(to).x1, pipe.z],
      ],
    };
  });

export const sumpVessels = (socks: readonly SockPlace[], joined: readonly JoinedPlace[]): readonly VesselPlace[] => [
  ...joined.map(({ tank, box }): VesselPlace => ({ id: tank.id, kind: "chamber", name: tank.id, box })),
  ...socks.flatMap(({ chamber, sock, boxes }) =>
    boxes.slice(0, 1).map(
      (box): VesselPlace => ({
        id: `${chamber} sock`,
        kind: "sock",
        name: sock.kind,
        box: { ...box, x1: boxes[boxes.length - 1]!.x1 },
      }),
    ),
  ),
];

/** Cloth as dashed walls; the box of a roller has solid ones and its two rolls. */
export const drawSocks = (socks: readonly SockPlace[], sheet: Sheet): Child[] =>
  socks.flatMap(({ sock, boxes }) =>
    boxes.map((box) =>
      h(
        "g",
        { class: "sock" },
        h("path", {
          class: sock.kind === "sock" ? "cloth" : "shell",
          d: pathOf(sheet, [
            [box.x0, box.z1],
            [box.x0, box.z0],
            [box.x1, box.z0],
            [box.x1, box.z1],
          ]),
        }),
        sock.kind === "fleece roller" &&
          [box.x0 + 0.02, box.x1 - 0.02].map((x) =>
            h("circle", { class: "pump-body", cx: sheet.x(x), cy: sheet.y(box.z1) - 6, r: 6 }),
          ),
        h("path", {
          class: "ink",
          d:
            pathOf(sheet, [
              [box.x0 - 0.008, box.z1],
              [box.x0 + 0.008, box.z1],
            ]) +
            pathOf(sheet, [
              [box.x1 - 0.008, box.z1],
              [box.x1 + 0.008, box.z1],
            ]),
        }),
      ),
    ),
  );

/** The room of the rig that joined tanks take beside the sump [m]. */
export const joinedEndX = (joined: readonly JoinedPlace[], rig: Rig, sump: Box): number =>
  joined.reduce((x, { tank, box }) => Math.max(x, box.x1 + tank.glassM), sump.x1 + rig.sump.glassM);
