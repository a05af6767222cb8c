// Which entries of a square matrix can differ from zero.

/** Compressed-row sparsity pattern of a square matrix; columns ascend within a row and the diagonal is always present. */
export interface SparsePattern {
  readonly size: number;
  /** Length size + 1: row i owns entries rowStart[i] .. rowStart[i + 1] - 1. */
  readonly rowStart: Int32Array;
  readonly columns: Int32Array;
}
