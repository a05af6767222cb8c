// What the sizing search is asked, and what it finds.

import type { Cabinet } from "../../models/rig.ts";
import type { CourseRunner } from "../forecast/course.ts";
import type { Limits } from "../forecast/promise.ts";
import type { LoadResult } from "./grown-in.ts";
import type { Levels, Reserve } from "./levels.ts";
import type { TowerSize } from "./media-size.ts";

export interface SizeRequest {
  readonly limits: Limits;
  /** Share of tanks in which the limits are kept. */
  readonly confidence: number;
  /** System volumes an hour through the sump that are tried. */
  readonly turnovers: readonly number[];
  /** Generic kinds of media that are tried. */
  readonly media: readonly string[];
}

export interface SizeSettings extends Omit<CourseRunner, "onProgress"> {
  readonly seed: string;
  /** Members of each trial, and fresh ones for the check of each row. */
  readonly members: number;
  readonly checked: number;
  readonly onProgress?: (done: number, of: number) => void;
}

export interface PumpSize {
  readonly labelM3PerS: number;
  readonly shutOffM: number;
  /** Flow through the outlets and head of the pump in the running system. */
  readonly flowM3PerS: number;
  readonly headM: number;
  readonly turnoverPerHour: number;
}

export interface SumpSize extends Levels, Reserve {
  /** Inside length [m]. */
  readonly lengthM: number;
  /** Running level of the row: the highest that holds [m]. */
  readonly waterM: number;
}

export interface TowerChoice extends TowerSize {
  /** Least volume that carries the animals by the search; null when none that fits does [m3]. */
  readonly leastM3: number | null;
  /** Less was not tried. */
  readonly triedM3: number;
  /** Greatest volume that fits [m3]. */
  readonly mostM3: number;
  readonly deepestM: number;
}

export type Failure =
  /** No label flow reaches the turnover against the head. */
  | "pump"
  /** The overflow does not pass the flow, or the pump draws air. */
  | "drains"
  /** No sump up to the longest has a level that suits power cut and pump. */
  | "sump"
  /** The tower has no height. */
  | "height"
  /** The media that fit do not carry the animals. */
  | "load"
  /** Not even a thirty-second of the animals can be carried, so that something else than size is in the way, such as alkalinity. */
  | "unfed"
  /** The parts do not fit the cabinet or its door. */
  | "cabinet"
  /** The parts cannot be built together. */
  | "built";

export interface SizeRow {
  readonly media: string;
  readonly turnover: number;
  readonly pump: PumpSize | null;
  readonly sump: SumpSize | null;
  readonly tower: TowerChoice | null;
  /** Share of the written animals that the most media carries; null where it carries all, or was not reached. */
  readonly carries: number | null;
  /** Fresh members with the row as it is; null where it was not reached. */
  readonly fresh: LoadResult | null;
  readonly wetMassKg: number | null;
  readonly misfits: readonly { readonly part: string; readonly spareM: number }[];
  /** Null: it works. */
  readonly failure: Failure | null;
  readonly problem: string | null;
  /** The scenario of the row; null where it was not reached. */
  readonly text: string | null;
}

export interface AsWritten {
  readonly levels: Levels;
  /** Running level and inside length of the sump as written [m]. */
  readonly runsAtM: number;
  readonly lengthM: number;
  /** Room and fill-back volume at the running level as written, and at the highest level that holds: the smallest reserve. */
  readonly reserve: Reserve;
  readonly leastReserve: Reserve | null;
  /** Inside length of the shortest sump with the written pump, width and height; null when none holds. */
  readonly shortestSumpM: number | null;
  /** Media in the first tower, and the least of it that carries the animals; null where they are too many, or without a tower. */
  readonly mediaM3: number | null;
  readonly leastMediaM3: number | null;
  /** Factor on the animals as written, and fresh members with it. */
  readonly largestLoad: number;
  readonly fresh: LoadResult | null;
}

export interface Sizes {
  readonly room: Room;
  readonly foodGPerDay: number;
  readonly written: AsWritten;
  /** Those that work first, by length of the sump, then volume of media. */
  readonly rows: readonly SizeRow[];
}

/** Largest inside length of the sump and what bounds it [m]. */
export interface Room {
  readonly longestSumpM: number;
  /** No shorter one is tried. */
  readonly shortestSumpM: number;
  readonly cabinet: Cabinet | null;
}
