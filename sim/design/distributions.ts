// Inverse distribution functions: they map a uniform number in [0, 1) to a value of another distribution.
import { exp, log, pow } from "../elementary.ts";

/** Probabilities are clamped to [TAIL, 1 - TAIL], about 6 standard deviations, so that no value is infinite. */
const TAIL = 1e-9;

/**
 * Inverse of the standard normal distribution function.
 * Source: Wichura 1988, Applied Statistics 37, 477-484, algorithm AS 241 (PPND16); relative error about 1e-16.
 * @param u probability in [0, 1], dimensionless
 */
export function normalQuantile(u: number): number {
  const p = Math.min(1 - TAIL, Math.max(TAIL, u));
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) return q * ratio(0.180625 - q * q, MIDDLE);
  const r = Math.sqrt(-log(Math.min(p, 1 - p)));
  return Math.sign(q) * ratio(r - 1.6, OUTER);
}

type Rational = readonly [above: readonly number[], below: readonly number[]];

const MIDDLE: Rational = [
  [
    3.3871328727963665, 133.14166789178438, 1971.5909503065513, 13731.69376550946, 45921.95393154987, 67265.7709270087,
    33430.57558358813, 2509.0809287301227,
  ],
  [
    1, 42.31333070160091, 687.1870074920579, 5394.196021424751, 21213.794301586597, 39307.89580009271, 28729.085735721943,
    5226.495278852854,
  ],
];
const OUTER: Rational = [
  [
    1.4234371107496835, 4.630337846156546, 5.769497221460691, 3.6478483247632045, 1.2704582524523684, 0.2417807251774506,
    0.022723844989269184, 0.0007745450142783414,
  ],
  [
    1, 2.053191626637759, 1.6763848301838038, 0.6897673349851, 0.14810397642748008, 0.015198666563616457, 0.0005475938084995345,
    1.0507500716444169e-9,
  ],
];

const polynomial = (x: number, coefficients: readonly number[]): number => coefficients.reduceRight((sum, c) => sum * x + c, 0);
const ratio = (x: number, [above, below]: Rational): number => polynomial(x, above) / polynomial(x, below);

/**
 * A distribution as its inverse distribution function: `u` in [0, 1) gives the value below which a share `u` of the
 * distribution lies.
 */
export type Quantile = (u: number) => number;

export const even =
  (from: number, to: number): Quantile =>
  (u) =>
    from + (to - from) * u;

/** Uniform in the logarithm; both ends must be above 0. */
export const logEven =
  (from: number, to: number): Quantile =>
  (u) =>
    from * pow(to / from, u);

/**
 * Triangular: density rises from `from` to `likely` and falls to `to` (Johnson, Kotz & Balakrishnan 1995, Continuous
 * Univariate Distributions 2, 26.9).
 */
export const triangle = (from: number, likely: number, to: number): Quantile => {
  const width = to - from;
  const rising = (likely - from) / width;
  return (u) => (u < rising ? from + Math.sqrt(u * width * (likely - from)) : to - Math.sqrt((1 - u) * width * (to - likely)));
};

export const normal =
  (mean: number, sd: number): Quantile =>
  (u) =>
    mean + sd * normalQuantile(u);

/** Log-normal: two thirds of all values lie between median / factor and median × factor; `factor` must be above 1. */
export const logNormal =
  (median: number, factor: number): Quantile =>
  (u) =>
    median * pow(factor, normalQuantile(u));

/**
 * Share of a standard normal distribution that lies below `x`.
 * Source: Marsaglia 2004, Journal of Statistical Software 11 (4), the series for the area from the middle; about 1e-15 within ±7, where it is cut.
 */
export function normalShare(x: number): number {
  if (x <= -FARTHEST) return 0;
  if (x >= FARTHEST) return 1;
  let [sum, term, before] = [x, x, 0];
  for (let n = 3; sum !== before; n += 2) {
    before = sum;
    term *= (x * x) / n;
    sum += term;
  }
  return 0.5 + sum * ROOT_TWO_PI_INVERSE * exp((-x * x) / 2);
}

const FARTHEST = 7;
const ROOT_TWO_PI_INVERSE = 0.3989422804014327;

/** Standard deviations from the middle within which eight of ten lie. */
export const EIGHT_OF_TEN = 1.2815515655446004;

/**
 * A positive value by its tenth, middle and ninetieth percentile: its logarithm is normal on either side of the middle, with a spread of its own
 * (a two-piece normal, Wallis 2014, Statistical Science 29, 106-112, with the middle as its median).
 */
export const betweenPercentiles = (low: number, likely: number, high: number): Quantile => {
  return (u) => {
    const z = normalQuantile(u) / EIGHT_OF_TEN;
    return likely * pow((z < 0 ? low : high) / likely, Math.abs(z));
  };
};

/** Even in the logarithm on either side of the middle value, with half of all values on each. */
export const logEvenAround = (low: number, likely: number, high: number): Quantile => {
  const [below, above] = [logEven(low, likely), logEven(likely, high)];
  return (u) => (u < 0.5 ? below(2 * u) : above(2 * u - 1));
};
