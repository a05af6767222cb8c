// Coefficients of the Rosenbrock method in use, and the shape in which any such method is written down.

/**
 * A stiffly accurate s-stage Rosenbrock method in the transformed variables that avoid multiplying by the Jacobian
 * (Hairer & Wanner, Solving Ordinary Differential Equations II, 2nd ed. 1996, section IV.7, eq. 7.25):
 *
 *   (I / (h gamma) - J) U_i = f(t + alpha_i h, y0 + sum_j a_ij U_j) + sum_j (c_ij / h) U_j + h gamma_i df/dt
 *
 * The last stage's argument is the embedded solution, and y1 is that argument plus the last U, which is the error estimate.
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
  /** Times of the stages, in steps. */
  readonly alpha: readonly number[];
  /** Weights of df/dt in the stages. */
  readonly timeWeights: readonly number[];
  readonly dense: readonly (readonly number[])[];
}

/**
 * RODAS4P: order 4(3), L-stable, six stages, order conditions for parabolic problems as well.
 * G. Steinebach, Order reduction of ROW methods for DAEs and method of lines applications, preprint 1741, TH Darmstadt, 1995.
 */
export const rodas4p: RosenbrockMethod = {
  name: "RODAS4P",
  order: 4,
  embeddedOrder: 3,
  gamma: 0.25,
  a: [
    [],
    [3],
    [1.831036793486759, 0.4955183967433795],
    [2.304376582692669, -0.05249275245743001, -1.176798761832782],
    [-7.170454962423024, -4.741636671481785, -16.31002631330971, -1.062004044111401],
    [-7.170454962423024, -4.741636671481785, -16.31002631330971, -1.062004044111401, 1],
  ],
  c: [
    [],
    [-12],
    [-8.791795173947035, -2.207865586973518],
    [10.81793056857153, 6.780270611428266, 19.5348594464241],
    [34.19095006749676, 15.49671153725963, 54.7476087596413, 14.16005392148534],
    [34.62605830930532, 15.30084976114473, 56.99955578662667, 18.40807009793095, -5.714285714285717],
  ],
  alpha: [0, 0.75, 0.21, 0.63, 1, 1],
  timeWeights: [0.25, -0.5, -0.023504, -0.0362, 0, 0],
  dense: [
    [25.09876703708589, 11.62013104361867, 28.49148307714626, -5.664021568594133, 0, 0],
    [1.638054557396973, -0.7373619806678748, 8.47791821923899, 15.9925314877952, -1.882352941176471, 0],
  ],
};
