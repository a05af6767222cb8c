// Compares the exact Jacobian of a model with differences of its derivative. For tests of models.

import type { StiffProblem } from "./problem.ts";

export interface JacobianCheck {
  /**
   * Largest |exact - difference| relative to the size of the terms; below about 1e-6 for a correct Jacobian of a smooth
   * function.
   */
  readonly worst: number;
  readonly row: number;
  readonly column: number;
  readonly exact: number;
  readonly difference: number;
  /** The worst entry in plain words; column -1 is the time derivative. */
  readonly message: string;
}

/**
 * Compares central differences of f with `jacobian` and `timeDerivative` at one point, for every entry. An entry
 * outside the pattern counts as an exact zero, so a missing dependence is found too. Errors are relative to
 * |difference|, |exact| and the level at which rounding in f hides the entry.
 * @param y state, length size
 * @param scale typical size of each component (or one for all), which determines the increments
 */
export function checkJacobian(problem: StiffProblem, t: number, y: Float64Array, scale: Float64Array | number): JacobianCheck {
  const { size, pattern } = problem;
  const values = new Float64Array(pattern.columns.length);
  const timeSlope = new Float64Array(size);
  problem.jacobian(t, y, values);
  problem.timeDerivative?.(t, y, timeSlope);
  const exact = Array.from({ length: size }, () => new Float64Array(size));
  for (let i = 0; i < size; i++)
    for (let e = pattern.rowStart[i]; e < pattern.rowStart[i + 1]; e++) exact[i][pattern.columns[e]] = values[e];

  const slope = new Float64Array(size);
  const above = new Float64Array(size);
  const below = new Float64Array(size);
  problem.derivative(t, y, slope);
  let worst = { worst: -1, row: -1, column: -1, exact: 0, difference: 0 };
  const compare = (column: number, increment: number) => {
    for (let row = 0; row < size; row++) {
      const difference = (above[row] - below[row]) / (2 * increment);
      const value = column < 0 ? timeSlope[row] : exact[row][column];
      const rounding = (1e-9 * (Math.abs(slope[row]) + Math.abs(above[row]))) / increment;
      const error = Math.abs(difference - value) / (Math.abs(difference) + Math.abs(value) + rounding + Number.MIN_VALUE);
      if (!(error <= worst.worst)) worst = { worst: error, row, column, exact: value, difference };
    }
  };
  const moved = Float64Array.from(y);
  for (let column = 0; column < size; column++) {
    const increment = 1e-5 * Math.max(Math.abs(y[column]), typeof scale === "number" ? scale : scale[column]);
    moved[column] = y[column] + increment;
    problem.derivative(t, moved, above);
    moved[column] = y[column] - increment;
    problem.derivative(t, moved, below);
    moved[column] = y[column];
    compare(column, increment);
  }
  const increment = 1e-5 * Math.max(1, Math.abs(t));
  problem.derivative(t + increment, y, above);
  problem.derivative(t - increment, y, below);
  compare(-1, increment);

  const name = (index: number) => problem.componentName?.(index) ?? `component ${index}`;
  const by = worst.column < 0 ? "time" : name(worst.column);
  return {
    ...worst,
    message: `slope of ${name(worst.row)} by ${by}: exact ${worst.exact}, by differences ${worst.difference}`,
  };
}
