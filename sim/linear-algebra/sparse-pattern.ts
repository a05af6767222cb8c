// Structural non-zeros of a square matrix.

/** Compressed-row sparsity pattern of a square matrix. Columns ascend within a row, and the diagonal is always present. */
export interface SparsePattern {
  readonly size: number;
  /** Length size + 1: row i owns the entries rowStart[i] .. rowStart[i + 1] - 1. */
  readonly rowStart: Int32Array;
  /** Column of each entry, length rowStart[size]. */
  readonly columns: Int32Array;
}
