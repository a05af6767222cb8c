// Whether the siphon-break holes of a rig reliably break its siphons, between the favourable and the unfavourable limit
// of the air's behaviour.

import type { Rig } from "../../rig.ts";
import { airShareOfOpening, clearingVelocityMPerS, openingForAirShareM2, PLUG_SHARE } from "../laws/outlet.ts";
import { boreAreaM2 } from "../laws/pipe.ts";
import type { OutageSimulator } from "../outage/outage-simulation.ts";
import type { BreakHole, OutageRun, Transient } from "../types.ts";

/** A siphon that still runs when the water is this far below its hole was not broken in time [m] (modelling assumption). */
const LATE_M = 0.01;
/**
 * Factor by which a new hole is wider than the smallest that breaks [-], rounded to half a millimetre (modelling
 * assumption).
 */
const WIDER = 1.25;
const STEP_M = 5e-4;

/**
 * One entry for each hole that takes air during an outage. The outage is simulated in the unfavourable limit, where a
 * fast flow carries the air down. Where that does not break the siphon, it is simulated again in the favourable limit,
 * where the air collects at the crown.
 * @param story with its trace, as judged
 */
export function breakHoles(rig: Rig, simulator: OutageSimulator, story: OutageRun): BreakHole[] {
  const { cut } = story;
  const legs = new Map(
    [simulator.network.returnLine, ...simulator.network.moreLines]
      .flatMap((line) => line?.legs ?? [])
      .map((leg) => [leg.id, leg]),
  );
  const readings = [rig.return, ...rig.moreReturns]
    .flatMap(({ nozzles }) => nozzles)
    .flatMap(({ id, display, breakHole }) => {
      const leg = legs.get(id);
      const bared = cut.events.find((event) => event.id === `hole ${id}`)?.tS;
      if (!leg || !breakHole || bared === undefined) return [];
      const { fallBoreM, holeBoreM, mouthK } = leg;
      const shareOfHoles = airShareOfOpening(boreAreaM2(breakHole.diameterM) * breakHole.count, holeBoreM, mouthK);
      const wantedM2 = openingForAirShareM2(PLUG_SHARE, holeBoreM, mouthK) / breakHole.count;
      return [
        {
          nozzle: id,
          display,
          diameterM: breakHole.diameterM,
          count: breakHole.count,
          airShare: shareOfHoles,
          velocityMPerS: Math.abs(flowAt(cut, `up to ${id}`, bared)) / boreAreaM2(fallBoreM),
          clearingVelocityMPerS: clearingVelocityMPerS(fallBoreM),
          wantedDiameterM: Math.ceil((WIDER * Math.sqrt((4 * wantedM2) / Math.PI)) / STEP_M) * STEP_M,
          breaks: brokenInTime(cut, id, display, breakHole.z, bared),
          z: breakHole.z,
        },
      ];
    });
  if (readings.every(({ breaks }) => breaks))
    return readings.map((reading) => ({ ...bare(reading), outcome: "breaks", ifItBreaks: null }));
  const good = simulator.simulate({ faults: story.faults, follow: false, airGathers: true });
  const ifItBreaks = { verdict: good.verdict, downM3: downOf(good.cut) };
  return readings.map((reading) => {
    if (reading.breaks) return { ...bare(reading), outcome: "breaks", ifItBreaks: null };
    const bared = good.cut.events.find((event) => event.id === `hole ${reading.nozzle}`)?.tS ?? 0;
    const may = brokenInTime(good.cut, reading.nozzle, reading.display, reading.z, bared);
    return { ...bare(reading), outcome: may ? "may not break" : "does not break", ifItBreaks: may ? ifItBreaks : null };
  });
}

const bare = <R extends { readonly z: number; readonly breaks: boolean }>({ z: _, breaks: __, ...rest }: R) => rest;

/** Volume that leaves the displays during an outage [m³]. */
export const downOf = ({ vessels, startVolumesM3, endVolumesM3 }: Transient): number =>
  vessels.reduce((sum, { id, kind }) => (kind === "display" ? sum + startVolumesM3[id] - endVolumesM3[id] : sum), 0);

/** Whether a hole breaks its siphon before the water is far below it. */
function brokenInTime(cut: Transient, nozzle: string, display: string, holeZ: number, baredS: number): boolean {
  const broken = cut.events.find((event) => event.id === `siphon ${nozzle} broken` && event.tS >= baredS);
  if (!broken) return false;
  return holeZ - sampleAt(cut, cut.trace.levelsZ[display], broken.tS) < LATE_M;
}

const flowAt = (cut: Transient, link: string, tS: number): number => sampleAt(cut, cut.trace.flowsM3PerS[link], tS);

/** A series of the trace at a time, interpolated linearly. */
function sampleAt({ trace }: Transient, series: readonly number[], tS: number): number {
  const { timesS } = trace;
  const n = timesS.findIndex((t) => t >= tS);
  if (n < 0) return series[series.length - 1];
  if (n === 0) return series[0];
  const w = (tS - timesS[n - 1]) / (timesS[n] - timesS[n - 1] || 1);
  return series[n - 1] + w * (series[n] - series[n - 1]);
}
