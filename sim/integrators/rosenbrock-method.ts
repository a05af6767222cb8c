// Coefficients of the Rosenbrock method in use, and the form in which such methods are defined.

/**
 * A stiffly accurate s-stage Rosenbrock method in the transformed variables that avoid multiplication by the Jacobian
 * (Hairer & Wanner, Solving Ordinary Differential Equations II, 2nd ed. 1996, section IV.7, eq. 7.25):
 *
 *   (I / (h gamma) - J) U_i = f(t + alpha_i h, y0 + sum_j a_ij U_j) + sum_j (c_ij / h) U_j + h gamma_i df/dt
 *
 * The argument of the last stage is the embedded solution. y1 is that argument plus the last U, which is the error estimate.
 * Dense output: y(t0 + s h) = (1-s) y0 + s (y1 + (1-s) (K_1 + s (K_2 + ...))), K_m = sum_j dense[m][j] U_j (ibid., section VI.4).
 */
export interface RosenbrockMethod {
  readonly name: string;
  readonly order: number;
  /** Order of the embedded solution. */
  readonly embeddedOrder: number;
  readonly gamma: number;
  /** Row i holds a_ij for j < i. */
  readonly a: readonly (readonly number[])[];
  /** Row i holds c_ij for j < i. */
  readonly c: readonly (readonly number[])[];
  /** Times of the stages, as fractions of the step; length s. */
  readonly alpha: readonly number[];
  /** Weights of df/dt in the stages (gamma_i); length s. */
  readonly timeWeights: readonly number[];
  readonly dense: readonly (readonly number[])[];
}

/**
 * RODAS5P: order 5(4), L-stable, eight stages, dense output of order 4, order conditions for parabolic problems as well.
 * G. Steinebach, Construction of Rosenbrock-Wanner method Rodas5P and numerical benchmarks within the Julia Differential
 * Equations package, BIT Numerical Mathematics 63, 27 (2023). Chosen in tests/bench/work-precision.md.
 */
export const rodas5p: RosenbrockMethod = {
  name: "RODAS5P",
  order: 5,
  embeddedOrder: 4,
  gamma: 0.21193756319429014,
  a: [
    [],
    [3],
    [2.849394379747939, 0.45842242204463923],
    [-6.954028509809101, 2.489845061869568, -10.358996098473584],
    [2.8029986275628964, 0.5072464736228206, -0.3988312541770524, -0.04721187230404641],
    [-7.502846399306121, 2.561846144803919, -11.627539656261098, -0.18268767659942256, 0.030198172008377946],
    [-7.502846399306121, 2.561846144803919, -11.627539656261098, -0.18268767659942256, 0.030198172008377946, 1],
    [-7.502846399306121, 2.561846144803919, -11.627539656261098, -0.18268767659942256, 0.030198172008377946, 1, 1],
  ],
  c: [
    [],
    [-14.155112264123755],
    [-17.97296035885952, -2.859693295451294],
    [147.12150275711716, -1.41221402718213, 71.68940251302358],
    [165.43517024871676, -0.4592823456491126, 42.90938336958603, -5.961986721573306],
    [24.854864614690072, -3.0009227002832186, 47.4931110020768, 5.5814197821558125, -0.6610691825249471],
    [30.91273214028599, -3.1208243349937974, 77.79954646070892, 34.28646028294783, -19.097331116725623, -28.087943162872662],
    [
      37.80277123390563, -3.2571969029072276, 112.26918849496327, 66.9347231244047, -40.06618937091002, -54.66780262877968,
      -9.48861652309627,
    ],
  ],
  alpha: [0, 0.6358126895828704, 0.4095798393397535, 0.9769306725060716, 0.4288403609558664, 1, 1, 1],
  timeWeights: [0.21193756319429014, -0.42387512638858027, -0.3384627126235924, 1.8046452872882734, 2.325825639765069, 0, 0, 0],
  dense: [
    [
      25.948786856663858, -2.5579724845846235, 10.433815404888879, -2.3679251022685204, 0.524948541321073, 1.1241088310450404,
      0.4272876194431874, -0.17202221070155493,
    ],
    [
      -9.91568850695171, -0.9689944594115154, 3.0438037242978453, -24.495224566215796, 20.176138334709044, 15.98066361424651,
      -6.789040303419874, -6.710236069923372,
    ],
    [
      11.419903575922262, 2.8879645146136994, 72.92137995996029, 80.12511834622643, -52.072871366152654, -59.78993625266729,
      -0.15582684282751913, 4.883087185713722,
    ],
  ],
};
