// Assembles a network from vessels and links.

import { type LevelCurve, levelCurve } from "../laws/level-curve.ts";
import type { VesselKind } from "../types.ts";
import type { DrainPipe, Link, Vessel } from "./network.ts";

/** Collects vessels and links, and finds vessels by id. */
export class Assembly {
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

/** Vessel that receives a drain or branch: a chamber, its sock, or the top of a tower. */
export function receiver(parts: Assembly, id: string): number {
  for (const suffix of [" prefilter", " tray", " sock", ""]) {
    const found = parts.vessels.findIndex((vessel) => vessel.id === id + suffix);
    if (found >= 0) return found;
  }
  return parts.place(id);
}
