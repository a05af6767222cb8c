// Published test problems for integrators, with the reference end values in tests/data/numerics.csv.

import type { StiffProblem } from "../../../sim/integrators/problem.ts";
import type { SparsePattern } from "../../../sim/linear-algebra/sparse-pattern.ts";

export interface PublishedProblem extends StiffProblem {
  readonly name: string;
  readonly start: readonly number[];
  readonly end: number;
  /** Typical size of each component, for absolute tolerances. */
  readonly scale: readonly number[];
}

/** Sparsity pattern from the columns of each row. */
export function patternOf(rows: readonly (readonly number[])[]): SparsePattern {
  const rowStart = new Int32Array(rows.length + 1);
  rows.forEach((row, i) => {
    rowStart[i + 1] = rowStart[i] + row.length;
  });
  return { size: rows.length, rowStart, columns: Int32Array.from(rows.flat()) };
}

export const robertson: PublishedProblem = {
  name: "Robertson",
  size: 3,
  start: [1, 0, 0],
  end: 1e11,
  scale: [1e-2, 1e-8, 1],
  pattern: patternOf([
    [0, 1, 2],
    [0, 1, 2],
    [1, 2],
  ]),
  derivative(_t, y, out) {
    out[0] = -0.04 * y[0] + 1e4 * y[1] * y[2];
    out[2] = 3e7 * y[1] * y[1];
    out[1] = -out[0] - out[2];
  },
  jacobian(_t, y, v) {
    v[0] = -0.04;
    v[1] = 1e4 * y[2];
    v[2] = 1e4 * y[1];
    v[3] = 0.04;
    v[4] = -1e4 * y[2] - 6e7 * y[1];
    v[5] = -1e4 * y[1];
    v[6] = 6e7 * y[1];
    v[7] = 0;
  },
};

export const hires: PublishedProblem = {
  name: "HIRES",
  size: 8,
  start: [1, 0, 0, 0, 0, 0, 0, 0.0057],
  end: 321.8122,
  scale: [1, 1, 1, 1, 1, 1, 0.0057, 0.0057],
  pattern: patternOf([
    [0, 1, 2],
    [0, 1],
    [2, 3, 4],
    [1, 2, 3],
    [4, 5, 6],
    [3, 4, 5, 6, 7],
    [5, 6, 7],
    [5, 6, 7],
  ]),
  derivative(_t, y, out) {
    out[0] = -1.71 * y[0] + 0.43 * y[1] + 8.32 * y[2] + 0.0007;
    out[1] = 1.71 * y[0] - 8.75 * y[1];
    out[2] = -10.03 * y[2] + 0.43 * y[3] + 0.035 * y[4];
    out[3] = 8.32 * y[1] + 1.71 * y[2] - 1.12 * y[3];
    out[4] = -1.745 * y[4] + 0.43 * (y[5] + y[6]);
    out[5] = -280 * y[5] * y[7] + 0.69 * y[3] + 1.71 * y[4] - 0.43 * y[5] + 0.69 * y[6];
    out[6] = 280 * y[5] * y[7] - 1.81 * y[6];
    out[7] = -out[6];
  },
  jacobian(_t, y, v) {
    v.set([-1.71, 0.43, 8.32, 1.71, -8.75, -10.03, 0.43, 0.035, 8.32, 1.71, -1.12, -1.745, 0.43, 0.43]);
    v[14] = 0.69;
    v[15] = 1.71;
    v[16] = -280 * y[7] - 0.43;
    v[17] = 0.69;
    v[18] = -280 * y[5];
    v[19] = 280 * y[7];
    v[20] = -1.81;
    v[21] = 280 * y[5];
    v[22] = -v[19];
    v[23] = 1.81;
    v[24] = -v[21];
  },
};

/** The oscillator in its original time, mu = 1000. */
export const vanDerPol: PublishedProblem = {
  name: "Van der Pol",
  size: 2,
  start: [2, 0],
  end: 2000,
  scale: [1, 1e-3],
  pattern: patternOf([
    [0, 1],
    [0, 1],
  ]),
  derivative(_t, y, out) {
    out[0] = y[1];
    out[1] = 1000 * (1 - y[0] * y[0]) * y[1] - y[0];
  },
  jacobian(_t, y, v) {
    v[0] = 0;
    v[1] = 1;
    v[2] = -2000 * y[0] * y[1] - 1;
    v[3] = 1000 * (1 - y[0] * y[0]);
  },
};

/** The same with time in units of mu and y2 scaled accordingly: eps y2' = (1 - y1^2) y2 - y1, eps = 1e-6, end 2; same y1. */
export const vanDerPolScaled: PublishedProblem = {
  name: "Van der Pol, scaled",
  size: 2,
  start: [2, 0],
  end: 2,
  scale: [1, 1],
  pattern: vanDerPol.pattern,
  derivative(_t, y, out) {
    out[0] = y[1];
    out[1] = 1e6 * ((1 - y[0] * y[0]) * y[1] - y[0]);
  },
  jacobian(_t, y, v) {
    v[0] = 0;
    v[1] = 1;
    v[2] = 1e6 * (-2 * y[0] * y[1] - 1);
    v[3] = 1e6 * (1 - y[0] * y[0]);
  },
};

export const orego: PublishedProblem = {
  name: "OREGO",
  size: 3,
  start: [1, 2, 3],
  end: 360,
  scale: [1, 1, 1],
  pattern: patternOf([
    [0, 1],
    [0, 1, 2],
    [0, 2],
  ]),
  derivative(_t, y, out) {
    out[0] = 77.27 * (y[1] + y[0] * (1 - 8.375e-6 * y[0] - y[1]));
    out[1] = (y[2] - (1 + y[0]) * y[1]) / 77.27;
    out[2] = 0.161 * (y[0] - y[2]);
  },
  jacobian(_t, y, v) {
    v[0] = 77.27 * (1 - 2 * 8.375e-6 * y[0] - y[1]);
    v[1] = 77.27 * (1 - y[0]);
    v[2] = -y[1] / 77.27;
    v[3] = -(1 + y[0]) / 77.27;
    v[4] = 1 / 77.27;
    v[5] = 0.161;
    v[6] = -0.161;
  },
};

const BODIES = 7;

/** Seven bodies of masses 1..7 in a plane; state x, y, x', y'. Not stiff. */
export const pleiades: PublishedProblem = {
  name: "Pleiades",
  size: 28,
  start: [3, 3, -1, -3, 2, -2, 2, 3, -3, 2, 0, 0, -4, 4, 0, 0, 0, 0, 0, 1.75, -1.5, 0, 0, 0, -1.25, 1, 0, 0],
  end: 3,
  scale: new Array(28).fill(1),
  pattern: patternOf([
    ...Array.from({ length: 14 }, (_, i) => [i, i + 14]),
    ...Array.from({ length: 14 }, (_, i) => [...Array(14).keys(), i + 14]),
  ]),
  derivative(_t, y, out) {
    for (let i = 0; i < BODIES; i++) {
      out[i] = y[i + 14];
      out[i + 7] = y[i + 21];
      let ax = 0;
      let ay = 0;
      for (let j = 0; j < BODIES; j++) {
        if (i === j) continue;
        const dx = y[j] - y[i];
        const dy = y[j + 7] - y[i + 7];
        const pull = (j + 1) / (dx * dx + dy * dy) ** 1.5;
        ax += pull * dx;
        ay += pull * dy;
      }
      out[i + 14] = ax;
      out[i + 21] = ay;
    }
  },
  jacobian(_t, y, v) {
    v.fill(0);
    for (let i = 0; i < BODIES; i++) {
      v[2 * i + 1] = 1;
      v[2 * (i + 7) + 1] = 1;
      const rowX = 28 + 15 * i;
      const rowY = 28 + 15 * (i + 7);
      for (let j = 0; j < BODIES; j++) {
        if (i === j) continue;
        const dx = y[j] - y[i];
        const dy = y[j + 7] - y[i + 7];
        const squared = dx * dx + dy * dy;
        const pull = (j + 1) / squared ** 1.5;
        const xx = pull * (1 - (3 * dx * dx) / squared);
        const xy = (-3 * pull * dx * dy) / squared;
        const yy = pull * (1 - (3 * dy * dy) / squared);
        v[rowX + j] = xx;
        v[rowX + j + 7] = xy;
        v[rowY + j] = xy;
        v[rowY + j + 7] = yy;
        v[rowX + i] -= xx;
        v[rowX + i + 7] -= xy;
        v[rowY + i] -= xy;
        v[rowY + i + 7] -= yy;
      }
    }
  },
};

export const stiffProblems = [robertson, hires, vanDerPol, vanDerPolScaled, orego];
export const publishedProblems = [...stiffProblems, pleiades];
