// Where the water went: shares of each vessel's first water in every vessel, carried along the flows.

import { solveDense } from "../../../sim/linear-algebra/dense.ts";
import type { Network } from "../network/network.ts";

/** A vessel this empty holds no share worth dividing by [m3]. */
const EMPTY_M3 = 1e-12;

/**
 * Follows the water of each vessel through a run of steps. Each step is implicit: A a' = a, A = I + dt (out/V on the diagonal,
 * -inflow/V beside it). The columns of A sum to 1 and its off-diagonals are not positive, so its inverse is positive with columns that sum to 1:
 * shares stay between 0 and 1 and none is lost, at any step length (M-matrix theory: Berman & Plemmons 1979).
 */
export class WaterTracer {
  private readonly network: Network;
  private readonly size: number;
  private readonly matrix: Float64Array;
  /** Row by row: share of the water first in vessel j now in vessel i. */
  readonly shares: Float64Array;

  constructor(network: Network) {
    this.network = network;
    this.size = network.vessels.length;
    this.matrix = new Float64Array(this.size * this.size);
    this.shares = new Float64Array(this.size * this.size);
    for (let i = 0; i < this.size; i++) this.shares[i * this.size + i] = 1;
  }

  /**
   * @param movedM3 water each link carried in the step, positive from -> to
   * @param volumes volumes at the end of the step
   */
  advance(movedM3: Float64Array, volumes: Float64Array): void {
    const { matrix, size, network } = this;
    matrix.fill(0);
    for (let i = 0; i < size; i++) matrix[i * size + i] = 1;
    for (let n = 0; n < network.links.length; n++) {
      const moved = movedM3[n];
      if (moved === 0) continue;
      const from = moved > 0 ? network.links[n].from : network.links[n].to;
      const to = moved > 0 ? network.links[n].to : network.links[n].from;
      const share = Math.abs(moved) / Math.max(volumes[from], EMPTY_M3);
      matrix[from * size + from] += share;
      matrix[to * size + from] -= share;
    }
    solveDense(matrix, this.shares, size, size);
  }

  /** Column-stochastic matrix: [i][j] is the share of vessel j's first water now in vessel i. */
  transfer(): number[][] {
    return Array.from({ length: this.size }, (_, i) => Array.from(this.shares.subarray(i * this.size, (i + 1) * this.size)));
  }
}
