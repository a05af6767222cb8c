// "Left alone, a power cut no longer stays in from day 23 on." Slow drifts during weeks without maintenance.

import type { NeglectRun } from "../../models/hydraulics/planning/neglect.ts";
import type { Statement } from "../result/statement.ts";
import { day, length, type Message, number, sentence, volume } from "../text/message.ts";

/** Smallest reported change of salinity [g/kg]. */
const SALT_G_PER_KG = 0.3;

export function neglectFinding({ days, tightDay, floodDay, airDay, reservoirEmptyDay }: NeglectRun): Statement {
  const first = days[0];
  // What the tank and the salt come to while the pump still runs.
  const last = days.findLast(({ drawsAir }) => !drawsAir) ?? first;
  const most = Math.max(...days.map(({ floorM3 }) => floorM3));
  const rises = Object.entries(last.displayZ).map(([id, z]) => z - first.displayZ[id]);
  const rise = Math.max(...rises);
  const gone: Message =
    floodDay !== null
      ? sentence`from ${day(floodDay)} on a power cut puts water on the floor, ${volume(most)} at worst`
      : tightDay !== null
        ? sentence`from ${day(tightDay)} on a power cut leaves less than 25 mm in the sump`
        : sentence`a power cut still stays in after ${last.day} days, with ${length(last.marginM)} to spare`;
  const margin: Message =
    floodDay !== null && tightDay !== null && tightDay < floodDay ? sentence` (tight from ${day(tightDay)} on)` : [];
  const air: Message = airDay === null ? [] : sentence` The pump draws air on ${day(airDay)}.`;
  const tank: Message = rise > 0.002 ? sentence` The water in the tank rises by ${length(rise)} meanwhile.` : [];
  const reservoir: Message =
    reservoirEmptyDay === null ? [] : sentence` The top-off reservoir is empty on ${day(reservoirEmptyDay)}.`;
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
