// Layout of the state vector of a nitrogen system.
import { nitrifiers } from "../kinetics/guilds.ts";
import { cellVariables, filmVariables } from "../kinetics/rate-evaluator.ts";
import type { Wiring } from "./wiring.ts";

const CELL = cellVariables.length;
/** The first variables of a film are its own; it borrows the rest from its cell. */
const FILM = filmVariables.indexOf("het") + 1;
const FIRST_BACTERIA = filmVariables.indexOf("aob");
const GAS = 2; // oxygen, carbon dioxide: shares of the room air's
const cellSlot = Object.fromEntries(cellVariables.map((name, i) => [name, i])) as Record<CellVariable, number>;
const filmSlot: Readonly<Record<string, number>> = Object.fromEntries(filmVariables.slice(0, FILM).map((name, i) => [name, i]));

export type CellVariable = (typeof cellVariables)[number];
/** Sinks of nitrogen, g N: nitrogen gas, ammonia gas, plants, foam, retained in animals. Foam is counted in g COD. */
export const sinks = ["n2", "nh3air", "plant", "foam", "kept"] as const;
export type Sink = (typeof sinks)[number];

export const isCellVariable = (name: string): name is CellVariable => name in cellSlot;
export const isFilmVariable = (name: string): boolean => name in filmSlot;
export const isBacteria = (name: string): boolean => filmSlot[name] >= FIRST_BACTERIA;
export const isSink = (name: string): name is Sink => (sinks as readonly string[]).includes(name);

export class StateLayout {
  readonly size: number;
  readonly wiring: Wiring;
  readonly labels: readonly string[];
  private readonly filmBase: number;
  private readonly gasBase: number;
  private readonly gutBase: number;
  private readonly endBase: number;

  constructor(wiring: Wiring) {
    const { cells, films, gasCells, guts } = wiring;
    this.wiring = wiring;
    this.filmBase = cells.length * CELL;
    this.gasBase = this.filmBase + films.length * FILM;
    this.gutBase = this.gasBase + gasCells.length * GAS;
    this.endBase = this.gutBase + guts.length * 2;
    this.size = this.endBase + sinks.length;
    this.labels = [
      ...cells.flatMap((cell) => cellVariables.map((v) => `${v} in ${cell.name}`)),
      ...films.flatMap((film) => filmVariables.slice(0, FILM).map((v) => `${v} in the film on ${film.name}`)),
      ...gasCells.flatMap((c) => [`oxygen in the air of ${cells[c].name}`, `carbon dioxide in the air of ${cells[c].name}`]),
      ...guts.flatMap((gut) => [`food in ${gut.id}, first`, `food in ${gut.id}, second`]),
      ...sinks.map((name) => `nitrogen gone to ${name}`),
    ];
  }

  cellIndex(cell: number, substance: CellVariable): number {
    return cell * CELL + cellSlot[substance];
  }
  /** @throws Error for a substance that films do not have */
  filmIndex(film: number, substance: string): number {
    const slot = filmSlot[substance];
    if (slot === undefined) throw new Error(`no ${substance} in a film`);
    return this.filmBase + film * FILM + slot;
  }
  gasIndex(gas: number, which: "o2" | "co2"): number {
    return this.gasBase + gas * GAS + (which === "o2" ? 0 : 1);
  }
  gutIndex(gut: number, stage: 0 | 1): number {
    return this.gutBase + gut * 2 + stage;
  }
  endIndex(store: Sink): number {
    return this.endBase + sinks.indexOf(store);
  }
  componentName(index: number): string {
    return this.labels[index];
  }

  /** Absolute tolerance of each component: a hundredth of what a kit shows, and of the smallest inoculum. */
  absoluteTolerances(): Float64Array {
    const out = new Float64Array(this.size).fill(1e-5);
    this.wiring.films.forEach((_, f) => {
      for (const guild of nitrifiers) out[this.filmIndex(f, guild)] = 1e-8;
    });
    return out;
  }
}
