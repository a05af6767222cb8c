// Draggable handles of the drawing: the key that each one writes, its range of heights, and the rig during the drag.
import type { Rig } from "../../../models/rig.ts";
import { type Path, valueAt } from "../../../scenarios/load/edits.ts";
import { inches } from "../../../scenarios/text/format.ts";
import type { Layout } from "../../cutaway/places.ts";

export interface Handle {
  readonly id: string;
  readonly label: string;
  /** Path of its part; `key` is the key that it writes. */
  readonly part: Path;
  readonly key: Path;
  /** Position in the drawing [m]: a horizontal line from x0 to x1 at height z. */
  readonly x0: number;
  readonly x1: number;
  readonly z: number;
  readonly lowZ: number;
  readonly highZ: number;
  /** Text of the file for this height. */
  text(z: number): string;
  /** The rig with the handle at this height, without new water levels. */
  moved(rig: Rig, z: number): Rig;
  /** Vessel whose surface moves with it. */
  readonly surface: string | null;
  /** Position of the grip along its line, 0 to 1; the middle by default. */
  readonly gripAt?: number;
}

const INCH_M = 0.0254;

/** A length in its previous unit, to the nearest millimetre or sixteenth of an inch. */
export function lengthLike(before: unknown, metres: number, units: "metric" | "US"): string {
  const unit = typeof before === "string" ? /(mm|cm|m|in|inch|inches|ft|")\s*$/.exec(before.trim())?.[1] : undefined;
  const m = Math.max(0, metres);
  if (unit === "cm") return `${Number((m * 100).toFixed(1))} cm`;
  if (unit === "m") return `${Number(m.toFixed(3))} m`;
  if (unit === "mm") return `${Math.round(m * 1000)} mm`;
  if (unit || units === "US") return inches(Math.round((m / INCH_M) * 16) * (INCH_M / 16));
  return `${Math.round(m * 1000)} mm`;
}

const replaceAt = <T>(list: readonly T[], i: number, make: (old: T) => T): T[] =>
  list.map((item, k) => (k === i ? make(item) : item));

const listLength = (data: unknown, path: Path): number => {
  const value = valueAt(data, path);
  return Array.isArray(value) ? value.length : value === undefined || value === "none" ? 0 : 1;
};

/**
 * The handles of a system.
 * @param surfaces running levels by vessel id [m]
 */
export function handles(
  data: unknown,
  rig: Rig,
  layout: Layout,
  surfaces: ReadonlyMap<string, number>,
  units: "metric" | "US",
): readonly Handle[] {
  const list: Handle[] = [];
  const write = (path: Path, metres: number): string => lengthLike(valueAt(data, path), metres, units);
  const last = layout.chambers.at(-1);
  if (last)
    list.push({
      id: "sump water",
      label: "Water line of the return chamber",
      part: ["sump"],
      key: ["sump", "water"],
      x0: last.box.x0,
      x1: last.box.x1,
      z: rig.sump.runningLevelM,
      lowZ: 0.01,
      highZ: rig.sump.heightM - 0.001,
      text: (z) => write(["sump", "water"], z),
      moved: (r, z) => ({ ...r, sump: { ...r.sump, runningLevelM: z } }),
      surface: last.chamber.id,
      // Keeps clear of the tower and the riser.
      gripAt: 0.86,
    });
  layout.displays.forEach(({ display, inside, overflows, nozzles }, i) => {
    const rimZ = inside.z1;
    const surface = surfaces.get(display.id);
    const crests = overflows.map((_, j): Path => ["tank", i, "overflow", j, "crest"]);
    const byCrest = crests.findIndex((path) => valueAt(data, path) !== undefined);
    if (surface !== undefined && byCrest < 0)
      list.push({
        id: `tank ${i} water`,
        label: `Water line of ${display.name}`,
        part: ["tank", i],
        key: ["tank", i, "water line"],
        x0: inside.x0,
        x1: inside.x1,
        z: surface,
        lowZ: Math.max(inside.z0 + 0.05, rimZ - 0.25),
        highZ: rimZ - 0.002,
        text: (z) => write(["tank", i, "water line"], rimZ - z),
        moved: (r, z) => ({
          ...r,
          displays: replaceAt(r.displays, i, (d) => ({
            ...d,
            overflows: d.overflows.map((o) => ({ ...o, crestZ: o.crestZ + (z - surface) })),
          })),
        }),
        surface: display.id,
        gripAt: 0.4,
      });
    overflows.forEach((place, j) => {
      const key = crests[j]!;
      if (byCrest >= 0 && valueAt(data, key) !== undefined)
        list.push({
          id: `tank ${i} crest ${j}`,
          label: `Edge of the overflow of ${display.name}`,
          part: ["tank", i, "overflow", j],
          key,
          x0: place.inside.x0,
          x1: place.inside.x1,
          z: place.crest.z,
          lowZ: Math.max(inside.z0 + 0.05, rimZ - 0.25),
          highZ: rimZ - 0.002,
          text: (z) => write(key, rimZ - z),
          moved: (r, z) => ({
            ...r,
            displays: replaceAt(r.displays, i, (d) => ({
              ...d,
              overflows: replaceAt(d.overflows, j, (o) => ({ ...o, crestZ: z })),
            })),
          }),
          surface: null,
        });
      const boxKey: Path = ["tank", i, "overflow", j, "box"];
      const box = valueAt(data, boxKey);
      const size = typeof box === "string" ? /^(.*x\s*)([\d./ ]+?)(\s*(?:mm|cm|m|in|inch|inches|ft|")\s*)$/.exec(box) : null;
      const unitM = { mm: 1e-3, cm: 1e-2, m: 1, ft: 0.3048 }[size?.[3]?.trim() ?? ""] ?? INCH_M;
      if (size)
        list.push({
          id: `tank ${i} box ${j}`,
          label: `Floor of the overflow box of ${display.name}`,
          part: ["tank", i, "overflow", j],
          key: boxKey,
          x0: place.inside.x0,
          x1: place.inside.x1,
          z: place.inside.z0,
          lowZ: Math.max(layout.floorZ, inside.z0 + 0.01),
          highZ: place.crest.z - 0.05,
          text: (z) => {
            const depth = (place.inside.z1 - z) / unitM;
            return `${size[1]}${Number(depth.toFixed(unitM === 1e-3 ? 0 : unitM === 1 ? 3 : 1))}${size[3]}`;
          },
          moved: (r, z) => ({
            ...r,
            displays: replaceAt(r.displays, i, (d) => ({
              ...d,
              overflows: replaceAt(d.overflows, j, (o) => ({
                ...o,
                box: { ...o.box, floorZ: z, depthM: o.box.depthM + (o.box.floorZ - z) },
              })),
            })),
          }),
          surface: null,
        });
    });
    nozzles.forEach((nozzle) => {
      const k = rig.return.nozzles.findIndex(({ id }) => id === nozzle.id);
      const listed = listLength(data, ["return", "nozzles"]) > 0;
      if (!listed && rig.return.nozzles.length > 1) return;
      const key: Path = listed ? ["return", "nozzles", k, "depth"] : ["return", "outlet"];
      if (surface === undefined) return;
      list.push({
        id: `nozzle ${k}`,
        label: listed ? `Depth of return outlet ${k + 1}` : "Depth of the return outlet",
        part: listed ? ["return", "nozzles", k] : ["return"],
        key,
        x0: nozzle.x - 0.03,
        x1: nozzle.x + 0.03,
        z: nozzle.tipZ,
        lowZ: inside.z0 + 0.01,
        highZ: surface - 0.002,
        text: (z) => write(key, surface - z),
        moved: (r, z) => ({ ...r, return: { ...r.return, nozzles: replaceAt(r.return.nozzles, k, (n) => ({ ...n, tipZ: z })) } }),
        surface: null,
      });
    });
  });
  if (listLength(data, ["sump", "baffles"]) === layout.baffles.length)
    layout.baffles.forEach(({ box, kind }, i) => {
      const key: Path = ["sump", "baffles", i, "top"];
      list.push({
        id: `baffle ${i}`,
        label: `Top of baffle ${i + 1}`,
        part: ["sump", "baffles", i],
        key,
        x0: box.x0 - 0.012,
        x1: box.x1 + 0.012,
        z: box.z1,
        lowZ: (kind === "over" ? 0 : box.z0) + 0.02,
        highZ: rig.sump.heightM,
        text: (z) => write(key, z),
        moved: (r, z) => ({ ...r, sump: { ...r.sump, baffles: replaceAt(r.sump.baffles, i, (b) => ({ ...b, topM: z })) } }),
        surface: null,
      });
    });
  layout.towers.forEach(({ media, tray }, i) => {
    const grate: Path = ["tower", i, "grate"];
    list.push({
      id: `tower ${i} grate`,
      label: `Grate under the media${layout.towers.length > 1 ? ` of tower ${i + 1}` : ""}`,
      part: ["tower", i],
      key: grate,
      x0: media.x0,
      x1: media.x1,
      z: media.z0,
      lowZ: 0.02,
      highZ: media.z0 + 0.4,
      text: (z) => write(grate, z),
      moved: (r, z) => ({ ...r, towers: replaceAt(r.towers, i, (t) => ({ ...t, grateZ: z })) }),
      surface: null,
    });
    const depth: Path = ["tower", i, "depth"];
    const gap = tray.z0 - media.z1;
    list.push({
      id: `tower ${i} tray`,
      label: `Tray${layout.towers.length > 1 ? ` of tower ${i + 1}` : ""}: depth of the media`,
      part: ["tower", i, "tray"],
      key: depth,
      x0: tray.x0,
      x1: tray.x1,
      z: tray.z0,
      lowZ: media.z0 + 0.03 + gap,
      highZ: media.z0 + 1.2 + gap,
      text: (z) => write(depth, z - gap - media.z0),
      moved: (r, z) => ({ ...r, towers: replaceAt(r.towers, i, (t) => ({ ...t, mediaDepthM: z - gap - t.grateZ })) }),
      surface: null,
    });
  });
  return list;
}

export interface PartBox {
  readonly part: Path;
  readonly label: string;
  readonly box: { readonly x0: number; readonly x1: number; readonly z0: number; readonly z1: number };
}

/** Position of each part of the tree in the drawing, large ones first. */
export function partBoxes(data: unknown, layout: Layout): readonly PartBox[] {
  const chambersWritten = listLength(data, ["sump", "chambers"]) > 0;
  const nozzlesWritten = listLength(data, ["return", "nozzles"]) > 0;
  const around = (x: number, z: number, r = 0.035) => ({ x0: x - r, x1: x + r, z0: z - r, z1: z + r });
  return [
    ...layout.displays.map(({ display, inside }, i): PartBox => ({ part: ["tank", i], label: display.name, box: inside })),
    { part: ["sump"], label: "sump", box: layout.sump },
    ...layout.chambers.map(
      ({ chamber, box }, i): PartBox => ({
        part: chambersWritten ? ["sump", "chambers", i] : ["sump"],
        label: chamber.role,
        box,
      }),
    ),
    ...layout.towers.map(({ tower, shell }, i): PartBox => ({ part: ["tower", i], label: tower.id, box: shell })),
    ...layout.towers.map(({ media }, i): PartBox => ({ part: ["tower", i, "media"], label: "media", box: media })),
    ...layout.displays.flatMap(({ overflows }, i) =>
      overflows.map((o, j): PartBox => ({ part: ["tank", i, "overflow", j], label: "overflow", box: o.inside })),
    ),
    { part: ["return", "pump"], label: "pump", box: layout.pump },
    ...layout.displays.flatMap(({ nozzles }, i) =>
      nozzles.map(
        (n, k): PartBox => ({
          part: nozzlesWritten ? ["return", "nozzles", k] : ["return"],
          label: `outlet ${i + 1}`,
          box: around(n.x, n.tipZ),
        }),
      ),
    ),
    ...layout.closed.map(({ filter, box }, i): PartBox => ({ part: ["closed filter", i], label: filter.id, box })),
    ...(layout.reservoir ? [{ part: ["top off"], label: "top-off", box: layout.reservoir } as PartBox] : []),
  ];
}
