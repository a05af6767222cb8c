// Head loss along a pipe in both directions: the loss at a flow, and the flow under a head.
import { exp, log, log10, pow, square } from "../../../sim/elementary.ts";

/** Standard gravity [m/s2] (CGPM 1901). */
export const GRAVITY = 9.80665;

/**
 * Below this velocity [m/s] the loss of fittings becomes linear instead of quadratic, so that derivatives at zero flow
 * are finite.
 */
const CREEP_M_PER_S = 0.02;

export interface Pipe {
  readonly boreM: number;
  readonly lengthM: number;
  readonly roughnessM: number;
  /** Sum of loss coefficients, relative to the velocity head in this bore. */
  readonly lossK: number;
  /** If given, wall friction by Hazen-Williams with this coefficient instead of Colebrook-White. */
  readonly hazenWilliamsC?: number;
}

export const boreAreaM2 = (boreM: number): number => (Math.PI / 4) * boreM * boreM;

/** Explicit Darcy friction factor (Swamee & Jain 1976): within about 1 % of Colebrook-White for Re > 5000. */
export function swameeJain(reynolds: number, relativeRoughness: number): number {
  return 0.25 / square(log10(relativeRoughness / 3.7 + 5.74 / pow(reynolds, 0.9)));
}

/** 2 / ln 10: converts a natural logarithm to twice the decimal logarithm. */
const TWO_DECIMAL = 2 / Math.LN10;

/**
 * Darcy friction factor of turbulent flow, 1/sqrt f = -2 log10(eps/(3.7 D) + 2.51/(Re sqrt f)) (Colebrook 1939), by
 * Newton's method for x = 1/sqrt f from the first step of Serghides (1984, from memory), which costs one logarithm and
 * no power.
 */
export function colebrook(reynolds: number, relativeRoughness: number): number {
  const wall = relativeRoughness / 3.7;
  const film = 2.51 / reynolds;
  let x = -TWO_DECIMAL * log(wall + 12 / reynolds);
  for (let k = 0; k < 3; k++) {
    const inside = wall + film * x;
    const miss = x + TWO_DECIMAL * log(inside);
    x -= miss / (1 + (TWO_DECIMAL * film) / inside);
    // The next step would be smaller than the square of this one.
    if (Math.abs(miss) < 1e-6) break;
  }
  return 1 / (x * x);
}

/**
 * Coefficients of Dunlop's cubic in Re/2000 for one relative roughness, highest power first, and its correction at Re =
 * 4000.
 */
interface DunlopCubic {
  readonly roughness: number;
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  /** Relative difference of Colebrook-White at Re = 4000 from the cubic. */
  readonly bend: number;
}

/** Cache of the most recent cubics: a network has few roughnesses, and each cubic costs several logarithms. */
const cubics: DunlopCubic[] = [];
const MOST_CUBICS = 32;

function dunlopCubic(relativeRoughness: number): DunlopCubic {
  for (const cubic of cubics) if (cubic.roughness === relativeRoughness) return cubic;
  const y2 = relativeRoughness / 3.7 + 5.74 / pow(4000, 0.9);
  const y3 = -0.86859 * log(y2);
  const fa = 1 / (y3 * y3);
  const fb = fa * (2 - 0.00514215 / (y2 * y3));
  const cubic = {
    a: 0.032 - 3 * fa + 0.5 * fb,
    b: -0.128 + 13 * fa - 2 * fb,
    c: 0.128 - 17 * fa + 2.5 * fb,
    d: 7 * fa - fb,
  };
  const made = { roughness: relativeRoughness, ...cubic, bend: colebrook(4000, relativeRoughness) / at(cubic, 2) - 1 };
  if (cubics.length === MOST_CUBICS) cubics.shift();
  cubics.push(made);
  return made;
}

const at = ({ a, b, c, d }: Pick<DunlopCubic, "a" | "b" | "c" | "d">, r: number): number => d + r * (c + r * (b + r * a));

/**
 * Darcy friction factor for 2000 < Re < 4000: the cubic of Dunlop (1991) as printed in the EPANET 2.2 manual, chapter 12.
 */
export const dunlopTransition = (reynolds: number, relativeRoughness: number): number =>
  at(dunlopCubic(relativeRoughness), reynolds / 2000);

/**
 * Darcy friction factor at any Reynolds number: 64/Re to 2000 (Hagen-Poiseuille), Dunlop's cubic, adjusted by up to 1 % to meet
 * Colebrook-White at 4000 without a jump, and Colebrook-White above.
 */
export function frictionFactor(reynolds: number, relativeRoughness: number): number {
  if (reynolds >= 4000) return colebrook(reynolds, relativeRoughness);
  if (reynolds <= 2000) return 64 / Math.max(reynolds, 1e-9);
  const cubic = dunlopCubic(relativeRoughness);
  return at(cubic, reynolds / 2000) * (1 + (cubic.bend * (reynolds - 2000)) / 2000);
}

/**
 * Head loss at a flow [m], with the sign of the flow: Darcy-Weisbach for the wall, K v|v|/2g for the fittings.
 * The part of the fittings is K v sqrt(v² + vc²)/2g with vc = 0.02 m/s: 0.02 % high at 1 m/s, 2 % at 0.1 m/s, linear at zero.
 */
export function pipeLossM(pipe: Pipe, flowM3PerS: number, viscosityM2PerS: number): number {
  const velocity = flowM3PerS / boreAreaM2(pipe.boreM);
  const speed = Math.abs(velocity);
  const fittings = (pipe.lossK * velocity * Math.sqrt(velocity * velocity + CREEP_M_PER_S * CREEP_M_PER_S)) / (2 * GRAVITY);
  return fittings + Math.sign(velocity) * wallLossM(pipe, speed, viscosityM2PerS);
}

function wallLossM(pipe: Pipe, speed: number, viscosityM2PerS: number): number {
  if (pipe.lengthM === 0 || speed === 0) return 0;
  if (pipe.hazenWilliamsC !== undefined) return hazenWilliamsLossM(pipe, speed * boreAreaM2(pipe.boreM), pipe.hazenWilliamsC);
  const reynolds = (speed * pipe.boreM) / viscosityM2PerS;
  if (reynolds < 2000) return (32 * viscosityM2PerS * pipe.lengthM * speed) / (GRAVITY * pipe.boreM * pipe.boreM);
  return (frictionFactor(reynolds, pipe.roughnessM / pipe.boreM) * pipe.lengthM * speed * speed) / (2 * GRAVITY * pipe.boreM);
}

/**
 * Head loss by the Hazen-Williams formula in SI, h = 10.67 L Q^1.852 / (C^1.852 D^4.8704) (Williams & Hazen 1905; water
 * only).
 */
export function hazenWilliamsLossM(pipe: Pick<Pipe, "lengthM" | "boreM">, flowM3PerS: number, c: number): number {
  return (10.67 * pipe.lengthM * pow(flowM3PerS, 1.852)) / (pow(c, 1.852) * pow(pipe.boreM, 4.8704));
}

/**
 * Flow under a head [m³/s], with the sign of the head: the inverse of `pipeLossM`, to 1e-9 of the flow.
 * Without wall friction it is a closed form. With it, Newton's method solves laminar or turbulent flow; a secant
 * iteration solves the rest.
 */
export function pipeFlowM3PerS(pipe: Pipe, headM: number, viscosityM2PerS: number): number {
  if (headM === 0) return 0;
  const area = boreAreaM2(pipe.boreM);
  const head = Math.abs(headM);
  const frictionGuess = pipe.lengthM > 0 ? (0.028 * pipe.lengthM) / pipe.boreM : 0;
  const guess = creepingVelocity(head, pipe.lossK + frictionGuess);
  if (pipe.lengthM === 0) return Math.sign(headM) * guess * area;
  const critical = viscosityM2PerS / pipe.boreM;
  let velocity = Number.NaN;
  if (pipe.hazenWilliamsC === undefined) {
    if (guess > 4000 * critical) velocity = turbulentVelocity(pipe, head, viscosityM2PerS, guess);
    else if (guess < 2000 * critical) velocity = laminarVelocity(pipe, head, viscosityM2PerS);
  }
  if (Number.isNaN(velocity)) velocity = velocityBySecants(pipe, head, viscosityM2PerS, guess);
  return Math.sign(headM) * velocity * area;
}

/**
 * Velocity [m/s] by Newton's method in velocity and 1/sqrt f together, with one logarithm per step.
 * @returns NaN if the flow is not turbulent (Re < 4000)
 */
function turbulentVelocity(pipe: Pipe, headM: number, viscosityM2PerS: number, guess: number): number {
  const { boreM, lengthM, lossK } = pipe;
  const wall = pipe.roughnessM / boreM / 3.7;
  const least = (4000 * viscosityM2PerS) / boreM;
  const perFilm = (2.51 * viscosityM2PerS) / boreM;
  const perWall = lengthM / boreM / (2 * GRAVITY);
  let x = -TWO_DECIMAL * log(wall + (12 / 2.51) * (perFilm / guess));
  let v = creepingVelocity(headM, lossK + lengthM / boreM / (x * x));
  for (let k = 0; k < 20; k++) {
    const film = perFilm / v;
    const inside = wall + film * x;
    const steep = (TWO_DECIMAL * film) / inside;
    // One Newton step brings 1/sqrt f onto Colebrook's curve (quadratic error); `xSlope` is its derivative by velocity.
    const onCurve = x - (x + TWO_DECIMAL * log(inside)) / (1 + steep);
    const xSlope = (steep * onCurve) / (v * (1 + steep));
    const root = Math.sqrt(v * v + CREEP_M_PER_S * CREEP_M_PER_S);
    const friction = (perWall * v * v) / (onCurve * onCurve);
    const miss = friction + (lossK * v * root) / (2 * GRAVITY) - headM;
    const slope = 2 * friction * (1 / v - xSlope / onCurve) + (lossK * (root + (v * v) / root)) / (2 * GRAVITY);
    const stride = miss / slope;
    const moved = Math.abs(onCurve - x);
    x = onCurve - xSlope * stride;
    v -= stride;
    if (!(v >= least)) return Number.NaN;
    // Each step squares both errors, so the remaining error is below 1e-9.
    if (Math.abs(stride) < 1e-5 * v && moved < 1e-4) return v;
  }
  return Number.NaN;
}

/**
 * Velocity [m/s] by Newton's method with the Hagen-Poiseuille wall loss.
 * @returns NaN if the flow is not laminar (Re > 2000)
 */
function laminarVelocity({ boreM, lengthM, lossK }: Pipe, headM: number, viscosityM2PerS: number): number {
  const perWall = (32 * viscosityM2PerS * lengthM) / (GRAVITY * boreM * boreM);
  // Start above the root: at the velocity that wall or fittings alone would allow. The loss is convex, so no step goes below the root.
  let v = Math.min(headM / perWall, lossK > 0 ? creepingVelocity(headM, lossK) : Number.POSITIVE_INFINITY);
  for (let k = 0; k < 60; k++) {
    const root = Math.sqrt(v * v + CREEP_M_PER_S * CREEP_M_PER_S);
    const miss = perWall * v + (lossK * v * root) / (2 * GRAVITY) - headM;
    const stride = miss / (perWall + (lossK * (root + (v * v) / root)) / (2 * GRAVITY));
    v -= stride;
    if (Math.abs(stride) < 1e-5 * v) break;
  }
  return v * boreM <= 2000 * viscosityM2PerS ? v : Number.NaN;
}

/** Velocity [m/s] by secant iteration on the log-log curve, whose slope is between 1 (laminar) and 2 (rough). */
function velocityBySecants(pipe: Pipe, headM: number, viscosityM2PerS: number, guess: number): number {
  const area = boreAreaM2(pipe.boreM);
  let velocity = guess;
  let slope = velocity * pipe.boreM < 2000 * viscosityM2PerS ? 1 : 1.9;
  let over = log(pipeLossM(pipe, velocity * area, viscosityM2PerS) / headM);
  for (let k = 0; k < 40; k++) {
    const stride = -over / slope;
    velocity *= exp(stride);
    if (Math.abs(stride) < 1e-6) break;
    const after = log(pipeLossM(pipe, velocity * area, viscosityM2PerS) / headM);
    if (Math.abs(after) < 1e-9) break;
    slope = Math.min(2.2, Math.max(0.9, (after - over) / stride));
    over = after;
  }
  return velocity;
}

/** Velocity at which K v sqrt(v² + vc²)/2g equals the head. */
function creepingVelocity(headM: number, lossK: number): number {
  const square = (2 * GRAVITY * headM) / lossK;
  const creep2 = CREEP_M_PER_S * CREEP_M_PER_S;
  // The root of v⁴ + v² vc² = square², in a form without cancellation at small heads.
  return Math.sqrt((2 * square * square) / (creep2 + Math.sqrt(creep2 * creep2 + 4 * square * square)));
}
