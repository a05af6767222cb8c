// The structure of a nitrogen system, which is constant during a run.

export interface CellSpec {
  readonly id: string;
  readonly name: string;
}

export interface FilmSpec {
  readonly id: string;
  readonly name: string;
  /** Index of the cell with whose water it is in contact. */
  readonly cell: number;
  /** Thickness of the film, of the water in and on it, and of the boundary layer over it [m]. */
  readonly filmM: number;
  readonly waterM: number;
  readonly boundaryM: number;
}

/** A path of water between two cells; its flow is a coefficient. */
export interface StreamSpec {
  readonly from: number;
  readonly to: number;
}

export interface Wiring {
  readonly cells: readonly CellSpec[];
  readonly films: readonly FilmSpec[];
  readonly ways: readonly StreamSpec[];
  /** Cells with their own gas space over the water (towers). */
  readonly gasCells: readonly number[];
  /** Cells into which each gut empties, in proportion to their volume. */
  readonly guts: readonly { readonly id: string; readonly cells: readonly number[] }[];
}
