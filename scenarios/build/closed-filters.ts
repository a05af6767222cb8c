// Closed filters beside the tower.
import type { ClosedFilter, Display, Sump } from "../../models/rig.ts";
import type { Scenario } from "../schema/schema.ts";
import * as format from "../text/format.ts";
import type { Notes } from "../text/notes.ts";
import { ASSUMED, COMMON } from "../text/reasons.ts";
import { chamberLevelsM, mediaFigures } from "./filter.ts";

/** Share of the filter's volume that its media fill (modelling assumption). */
const MEDIA_PER_WATER = 0.6;
/** Flow in tank volumes per hour (common practice, no published source). */
const TURNOVERS_PER_HOUR = 2;
const INTAKE_OVER_FLOOR_M = 0.05;

/** @param surfaceZ elevation of the running water surface by tank */
export function buildClosedFilters(
  filters: Scenario["closed filter"],
  displays: readonly Display[],
  sump: Sump,
  surfaceZ: Readonly<Record<string, number>>,
  notes: Notes,
): readonly ClosedFilter[] {
  if (filters === "none") return [];
  const levels = chamberLevelsM(sump);
  const displayM3 = displays.reduce((sum, d) => sum + d.lengthM * d.widthM * (surfaceZ[d.id]! - d.bottomZ), 0);
  const usualFlow = (TURNOVERS_PER_HOUR * displayM3) / 3600;
  return filters.map((filter, i): ClosedFilter => {
    const key = filters.length > 1 ? `closed filter[${i + 1}]` : "closed filter";
    const first = displays[0]!.id;
    const on = notes.or(filter.on, `${key}.on`, first, first, COMMON);
    const display = displays.find((d) => d.id === on);
    const depthM = display ? surfaceZ[on]! - display.bottomZ : levels[on]!;
    const usualIntake = Math.max(0.005, depthM - INTAKE_OVER_FLOOR_M);
    const usualMedia = MEDIA_PER_WATER * filter.water;
    return {
      id: filter.name,
      on,
      waterM3: filter.water,
      media: {
        ...mediaFigures(filter.media, `${key}.media`, notes),
        volumeM3: notes.or(
          filter.media.volume,
          `${key}.media.volume`,
          usualMedia,
          format.volume(usualMedia),
          `${ASSUMED}: 60 % of its water`,
        ),
      },
      flowM3PerS: notes.or(
        filter.flow,
        `${key}.flow`,
        usualFlow,
        format.flow(usualFlow),
        `${COMMON}: twice the tank's water an hour`,
      ),
      powerW: filter.power,
      intakeDepthM: notes.or(
        filter.intake,
        `${key}.intake`,
        usualIntake,
        format.length(usualIntake),
        `${ASSUMED}: 50 mm above the floor`,
      ),
    };
  });
}
