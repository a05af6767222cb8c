// Transfer of water between vessels: the shares of each vessel's initial water in every vessel, advected with the flows.

import { solveDense } from "../../../sim/linear-algebra/dense.ts";
import type { Network } from "../network/network.ts";

/** A vessel with less water has no share worth computing [m³]. */
const EMPTY_M3 = 1e-12;

/**
 * Traces the water of each vessel through a sequence of steps. Each step is implicit: A a' = a, A = I + dt (out/V on
 * the diagonal, -inflow/V off it). The columns of A sum to 1 and its off-diagonals are not positive, so its inverse is
 * non-negative with columns that sum to 1: shares stay between 0 and 1 and none is lost, at any step length (M-matrix
 * theory: Berman & Plemmons 1979).
 */
export class WaterTracer {
  private readonly network: Network;
  private readonly size: number;
  private readonly matrix: Float64Array;
  /** size x size, row by row: share of the water initially in vessel j that is now in vessel i. */
  readonly shares: Float64Array;

  constructor(network: Network) {
    this.network = network;
    this.size = network.vessels.length;
    this.matrix = new Float64Array(this.size * this.size);
    this.shares = new Float64Array(this.size * this.size);
    for (let i = 0; i < this.size; i++) this.shares[i * this.size + i] = 1;
  }

  /**
   * @param movedM3 volume that each link carried in the step, positive from -> to, in the order of the links
   * @param volumes volumes at the end of the step, in the order of the vessels
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

  /** Column-stochastic matrix: [i][j] is the share of vessel j's initial water that is now in vessel i. */
  transfer(): number[][] {
    return Array.from({ length: this.size }, (_, i) => Array.from(this.shares.subarray(i * this.size, (i + 1) * this.size)));
  }
}
