// Pump curve of a centrifugal pump: the flow that it delivers against a head, and the inverse.
import { log, pow, square } from "../../../sim/elementary.ts";

export interface PumpCurve {
  readonly shutOffM: number;
  /** Flow against zero head [m³/s]. */
  readonly freeFlowM3PerS: number;
  /** Flow against a head [m³/s]; 0 from the shut-off head up, the free flow from 0 down. */
  flowM3PerS(headM: number): number;
  /** Head at a flow [m]. */
  headM(flowM3PerS: number): number;
}

/** Share of free flow below which a steep curve is replaced by its chord, so that its slope at shut-off is finite. */
const CHORD_SHARE = 0.02;

/**
 * Pump curve through points [flow m³/s, head m], in ascending order of flow from 0.
 * Three points give H = A - B Q^C (as EPANET 2.2 manual, chapter 3, fits them); two points a parabola with its vertex at shut-off
 * (common practice); more points a monotone cubic (Fritsch & Carlson 1980) after humps near shut-off are levelled, which is
 * conservative for a restart.
 * @throws Error for fewer than two points, for flows that do not ascend, or heads that do not fall
 */
export function pumpCurve(points: readonly (readonly [number, number])[]): PumpCurve {
  if (points.length < 2) throw new Error("a pump curve needs at least two points");
  for (let n = 1; n < points.length; n++)
    if (!(points[n][0] > points[n - 1][0])) throw new Error("the flows of a pump curve must ascend");
  if (!(points[points.length - 1][1] < points[0][1])) throw new Error("a pump's head must fall with its flow");
  if (points[0][0] === 0 && points.length <= 3) return powerCurve(points);
  return splineCurve(points);
}

/** The same pump at another speed: flow proportional to speed, head to its square (affinity laws). */
export function atSpeed(points: readonly (readonly [number, number])[], speed: number): [number, number][] {
  return points.map(([flow, head]) => [flow * speed, head * speed * speed]);
}

/** Coefficients of H = A - B Q^C through shut-off and two further points, or with C = 2 through one. */
export function powerFit(points: readonly (readonly [number, number])[]): { a: number; b: number; c: number } {
  const a = points[0][1];
  const [q1, h1] = points[1];
  if (points.length === 2) return { a, b: (a - h1) / square(q1), c: 2 };
  const [q2, h2] = points[2];
  const c = log((a - h2) / (a - h1)) / log(q2 / q1);
  return { a, b: (a - h1) / pow(q1, c), c };
}

function powerCurve(points: readonly (readonly [number, number])[]): PumpCurve {
  const { a, b, c } = powerFit(points);
  if (!(b > 0 && c > 0)) throw new Error("a pump's head must fall with its flow");
  const free = pow(a / b, 1 / c);
  const chordFlow = CHORD_SHARE * free;
  const chordDrop = b * pow(chordFlow, c);
  return {
    shutOffM: a,
    freeFlowM3PerS: free,
    flowM3PerS(head) {
      const drop = a - head;
      if (drop <= 0) return 0;
      if (head <= 0) return free;
      return drop < chordDrop ? (chordFlow * drop) / chordDrop : pow(drop / b, 1 / c);
    },
    headM: (flow) => (flow < chordFlow ? a - (chordDrop * Math.max(0, flow)) / chordFlow : a - b * pow(flow, c)),
  };
}

function splineCurve(points: readonly (readonly [number, number])[]): PumpCurve {
  // From free flow back to shut-off, heads ascending; a point that does not rise above its neighbour is dropped.
  const heads: number[] = [];
  const flows: number[] = [];
  for (let n = points.length - 1; n >= 0; n--) {
    const [flow, head] = points[n];
    if (heads.length > 0 && head <= heads[heads.length - 1]) continue;
    heads.push(head);
    flows.push(flow);
  }
  const n = heads.length;
  if (flows[n - 1] > 0) {
    // Shut-off not given, or dropped: extrapolate the last slope to zero flow.
    const slope = (heads[n - 1] - heads[n - 2]) / (flows[n - 2] - flows[n - 1]);
    heads.push(heads[n - 1] + slope * flows[n - 1]);
    flows.push(0);
  }
  if (heads[0] > 0) {
    const slope = (flows[0] - flows[1]) / (heads[1] - heads[0]);
    flows.unshift(flows[0] + slope * heads[0]);
    heads.unshift(0);
  }
  const slopes = monotoneSlopes(heads, flows);
  const top = heads[heads.length - 1];
  const flowAt = (head: number): number => {
    if (head >= top) return 0;
    if (head <= heads[0]) return flows[0];
    let k = 0;
    while (head > heads[k + 1]) k++;
    const width = heads[k + 1] - heads[k];
    const s = (head - heads[k]) / width;
    const r = 1 - s;
    return (
      flows[k] * r * r * (1 + 2 * s) +
      flows[k + 1] * s * s * (1 + 2 * r) +
      width * (slopes[k] * s * r * r - slopes[k + 1] * r * s * s)
    );
  };
  return {
    shutOffM: top,
    freeFlowM3PerS: flows[0],
    flowM3PerS: flowAt,
    headM(flow) {
      let low = heads[0];
      let high = top;
      for (let k = 0; k < 60; k++) {
        const middle = (low + high) / 2;
        if (flowAt(middle) > flow) low = middle;
        else high = middle;
      }
      return (low + high) / 2;
    },
  };
}

/**
 * Slopes that keep a cubic monotone between points (Fritsch & Carlson 1980, harmonic-mean form of Fritsch & Butland 1984).
 */
function monotoneSlopes(x: readonly number[], y: readonly number[]): number[] {
  const secant = x.slice(1).map((value, k) => (y[k + 1] - y[k]) / (value - x[k]));
  return x.map((_, k) => {
    if (k === 0) return secant[0];
    if (k === x.length - 1) return secant[k - 1];
    if (secant[k - 1] * secant[k] <= 0) return 0;
    const before = x[k] - x[k - 1];
    const after = x[k + 1] - x[k];
    const w1 = 2 * after + before;
    const w2 = after + 2 * before;
    return (w1 + w2) / (w1 / secant[k - 1] + w2 / secant[k]);
  });
}
