// "Left alone, after 23 days a power cut puts water on the floor." The days count
// from when somebody last looked. Slow drifts during weeks without maintenance.

import type { NeglectRun } from "../../models/hydraulics/planning/neglect.ts";
import type { Statement } from "../result/statement.ts";
import { length, type Message, number, sentence, volume } from "../text/message.ts";

/** Smallest reported change of salinity [g/kg]. */
const SALT_G_PER_KG = 0.3;

/** Days since anybody looked. */
const after = (days: number): string => (days === 0 ? "from the start" : days === 1 ? "after a day" : `after ${days} days`);

export function neglectFinding({ days, tightDay, floodDay, airDay, reservoirEmptyDay }: NeglectRun): Statement {
  const first = days[0];
  // What the tank and the salt come to while the pump still runs.
  const last = days.findLast(({ drawsAir }) => !drawsAir) ?? first;
  const most = Math.max(...days.map(({ floorM3 }) => floorM3));
  const rises = Object.entries(last.displayZ).map(([id, z]) => z - first.displayZ[id]);
  const rise = Math.max(...rises);
  const gone: Message =
    floodDay !== null
      ? sentence`${after(floodDay)} a power cut puts water on the floor, ${volume(most)} at worst`
      : tightDay !== null
        ? sentence`${after(tightDay)} a power cut leaves less than ${length(0.025)} in the sump`
        : sentence`a power cut still stays in ${after(last.day)}, with ${length(last.marginM)} to spare`;
  const margin: Message =
    floodDay !== null && tightDay !== null && tightDay < floodDay ? sentence` (tight ${after(tightDay)})` : [];
  const air: Message = airDay === null ? [] : sentence` The pump draws air ${after(airDay)}.`;
  const tank: Message = rise > 0.002 ? sentence` The water in the tank rises by ${length(rise)} meanwhile.` : [];
  const reservoir: Message =
    reservoirEmptyDay === null ? [] : sentence` The top-off reservoir is empty ${after(reservoirEmptyDay)}.`;
  const salt: Message =
    Math.abs(last.salinityGPerKg - first.salinityGPerKg) > SALT_G_PER_KG
      ? sentence` Salinity goes from ${number(first.salinityGPerKg, 3)} to ${number(last.salinityGPerKg, 3)} ppt.`
      : [];
  return {
    id: "neglect",
    topic: "upkeep",
    consequence: floodDay !== null ? "loss" : tightDay !== null || airDay !== null ? "harm" : "none",
    likelihood: "possible",
    word: floodDay !== null ? "FLOODS LATER" : tightDay !== null ? "TIGHT LATER" : "LASTS",
    text: sentence`Left alone, ${gone}${margin}.${tank}${air}${reservoir}${salt}`,
    value: floodDay ?? tightDay,
    unit: "d",
    advice:
      "Clean the weir and the pads before that day, and look at the water line of the tank: it rises before anything else shows.",
  };
}
