// State of the drawing at one moment of an outage run: the level of each water surface and the flow in each pipe.
import type { OutageTrace } from "../../scenarios/result/result.ts";
import { at, sampleBefore, stageTimes } from "./marks.ts";
import { hoseIds } from "./pipes.ts";
import type { Layout, PipePlace, VesselPlace } from "./places.ts";

export interface TraceSample {
  /** Elevation of the surface by place id [m]; absent if the run does not trace that vessel. */
  readonly surfaceZ: ReadonlyMap<string, number>;
  /** Flow by pipe, fall or tower id [m³/s]; negative = reverse. */
  readonly flowM3PerS: ReadonlyMap<string, number>;
  readonly floorM3: number;
}

type Flow = OutageTrace["flows"][number];

const traceKind: Readonly<Record<VesselPlace["kind"], string>> = {
  display: "display",
  box: "box",
  chamber: "chamber",
  reactor: "reactor",
  sock: "sock",
  reservoir: "reservoir",
};

/** Assignment of the traces of a run to the parts of the drawing: computed once, used for every frame. */
export interface Binding {
  readonly story: OutageTrace;
  readonly surfaces: readonly { readonly place: string; readonly levelZ: readonly number[] }[];
  readonly flows: readonly { readonly place: string; readonly lines: readonly (readonly number[])[] }[];
  readonly floor: readonly number[] | null;
  /** Hoses of closed filters and their flow while there is power; the outage run does not trace them. */
  readonly hoses: readonly { readonly place: string; readonly m3PerS: number }[];
  /** Start and end of the outage [s]. */
  readonly dark: readonly [from: number, to: number];
}

const vesselsOf = (story: OutageTrace, partOf: string, kind?: string): string[] =>
  story.vessels.filter((v) => v.partOf === partOf && (kind === undefined || v.kind === kind)).map((v) => v.id);

/** Flow traces of a pipe: those with its name; if inflow and outflow both exist, the outflow. */
function pipeLines(story: OutageTrace, pipe: PipePlace): readonly Flow[] {
  const named = story.flows.filter((f) => f.id === pipe.id || f.id.endsWith(` ${pipe.id}`));
  const out = named.filter((f) => f.id.startsWith("out of "));
  return out.length > 0 ? out : named.slice(0, 1);
}

/** Assigns the traces of a run to a layout. */
export function bind(layout: Layout, story: OutageTrace): Binding {
  const surfaces = layout.vessels.flatMap((place) => {
    const trace = story.vessels.find(
      (v) => v.kind === traceKind[place.kind] && (place.kind === "reservoir" || v.partOf === place.id || v.id === place.id),
    );
    return trace ? [{ place: place.id, levelZ: trace.levelZ }] : [];
  });
  const flows: { place: string; lines: readonly (readonly number[])[] }[] = [];
  for (const pipe of layout.pipes.filter((p) => p.kind !== "hose"))
    flows.push({ place: pipe.id, lines: pipeLines(story, pipe).map((f) => f.m3PerS) });
  for (const t of layout.towers) {
    const inside = new Set(vesselsOf(story, t.tower.id));
    const chamber = new Set(vesselsOf(story, t.tower.drainsTo, "chamber"));
    flows.push({
      place: t.tower.id,
      lines: story.flows.filter((f) => inside.has(f.from) && chamber.has(f.to)).map((f) => f.m3PerS),
    });
  }
  for (const fall of layout.falls) {
    if (layout.towers.some((t) => t.tower.id === fall.from)) continue;
    const from = new Set(vesselsOf(story, fall.from));
    const to = new Set(vesselsOf(story, fall.to));
    flows.push({ place: fall.id, lines: story.flows.filter((f) => from.has(f.from) && to.has(f.to)).map((f) => f.m3PerS) });
  }
  const floor = story.vessels.find((v) => v.kind === "floor");
  const hoses = layout.closed.flatMap(({ filter }) => hoseIds(filter.id).map((place) => ({ place, m3PerS: filter.flowM3PerS })));
  const { cutS, restartS } = stageTimes(story);
  const dark = [cutS ?? Number.POSITIVE_INFINITY, restartS ?? Number.POSITIVE_INFINITY] as const;
  return { story, surfaces, flows, floor: floor?.levelZ ?? null, hoses, dark };
}

/** State at `s` seconds into the run. */
export function traceSampleAt(binding: Binding, s: number): TraceSample {
  const { story } = binding;
  const surfaceZ = new Map<string, number>();
  for (const { place, levelZ } of binding.surfaces) surfaceZ.set(place, at(story.timeS, levelZ, s));
  const flowM3PerS = new Map<string, number>();
  const held = sampleBefore(story.timeS, s);
  for (const { place, lines } of binding.flows) {
    let sum = 0;
    // A flow stops at once with the pump: it stays constant up to the next sample instead of being interpolated.
    for (const line of lines) sum += line[held] ?? 0;
    flowM3PerS.set(place, sum);
  }
  const [from, to] = binding.dark;
  for (const { place, m3PerS } of binding.hoses) flowM3PerS.set(place, s >= from && s < to ? 0 : m3PerS);
  return { surfaceZ, flowM3PerS, floorM3: floorVolume(binding, s) };
}

/** Water on the floor so far: the run gives the final volume, its floor trace gives the course. */
function floorVolume(binding: Binding, s: number): number {
  const { story, floor } = binding;
  if (story.floorM3 <= 0) return 0;
  const last = floor?.at(-1) ?? 0;
  const first = floor?.[0] ?? 0;
  if (!floor || last - first <= 0) return s >= (story.timeS.at(-1) ?? 0) ? story.floorM3 : 0;
  return story.floorM3 * Math.min(1, Math.max(0, (at(story.timeS, floor, s) - first) / (last - first)));
}
