/** Types for `odex` 2.0.4, which ships a .ts that does not pass a strict compiler (see DEVELOPERS.md, Dependencies). */
export type Derivative = (x: number, y: number[]) => number[];
export type OutputFunction = (
  nr: number,
  xOld: number,
  x: number,
  y: number[],
  dense: ((component: number, x: number) => number) | undefined,
) => boolean | undefined;
export declare class Solver {
  constructor(n: number);
  absoluteTolerance: number | number[];
  relativeTolerance: number | number[];
  initialStepSize: number;
  maxStepSize: number;
  maxSteps: number;
  denseOutput: boolean;
  uRound: number;
  solve(
    f: Derivative,
    x0: number,
    y0: number[],
    xEnd: number,
    out?: OutputFunction,
  ): {
    y: number[];
    outcome: number;
    nStep: number;
    xEnd: number;
    nAccept: number;
    nReject: number;
    nEval: number;
  };
}
