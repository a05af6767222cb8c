// What a nitrogen system is made of. It never changes during a run.

export interface CellSpec {
  readonly id: string;
  readonly name: string;
}

export interface FilmSpec {
  readonly id: string;
  readonly name: string;
  /** Index of the cell whose water it touches. */
  readonly cell: number;
  /** Film thickness, water kept in and on it, and the still layer over it [m]. */
  readonly filmM: number;
  readonly waterM: number;
  readonly boundaryM: number;
}

/** A path that water may take between two cells; its flow is a coefficient. */
export interface StreamSpec {
  readonly from: number;
  readonly to: number;
}

export interface Wiring {
  readonly cells: readonly CellSpec[];
  readonly films: readonly FilmSpec[];
  readonly ways: readonly StreamSpec[];
  /** Cells with a gas space of their own over the water (towers). */
  readonly gasCells: readonly number[];
  /** Cells that each gut empties into, by their share of the water in them all. */
  readonly guts: readonly { readonly id: string; readonly cells: readonly number[] }[];
}
