// Media that are rinsed or replaced lose part of their film.

import { SOLIDS_LEFT } from "../operation/closed-filters.ts";
import { removeSolids } from "../operation/pads-and-sediment.ts";
import type { RunState } from "../operation/run-state.ts";
import { rinse } from "../tank/operations.ts";
import { eventRule } from "./rule.ts";

interface Where {
  /** Id of a surface or of its part; null for all media. */
  readonly where: string | null;
}

export interface RinseMedia extends Where {
  readonly kind: "rinse media";
  readonly lostShare: number;
}

export interface ReplaceMedia extends Where {
  readonly kind: "replace media";
  readonly share: number;
}

function loseFilm(run: RunState, where: string | null, lostShare: number): void {
  const { filmOf, layout } = run.aquarium;
  const { films } = layout.wiring;
  const lost =
    where === null
      ? [...filmOf.towers, ...filmOf.submerged, ...filmOf.closed]
      : films.flatMap(({ id }, f) => (id === where || id.startsWith(`${where} `) ? [f] : []));
  run.book("media rinsed or replaced", (y) => {
    for (const f of lost) rinse(run.system, y, f, lostShare);
  });
  // The media of a closed filter retain solids as its pad does.
  const opened = lost.filter((f) => filmOf.closed.includes(f)).map((f) => films[f].cell);
  removeSolids(run, "closed filters rinsed", opened, SOLIDS_LEFT);
}

export const rinseMediaRule = eventRule<RinseMedia>(
  "rinse media",
  ({ run }, { where, lostShare }) => {
    loseFilm(run, where, lostShare);
  },
  { isShock: () => true },
);

export const replaceMediaRule = eventRule<ReplaceMedia>(
  "replace media",
  ({ run }, { where, share }) => {
    loseFilm(run, where, share);
  },
  { isShock: () => true },
);
