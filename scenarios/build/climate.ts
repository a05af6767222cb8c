// Whether the water follows the room, and which rooms there are.
import type { Climate } from "../../models/nitrogen/management.ts";
import type { Scenario } from "../schema/schema.ts";

/**
 * The climate of a scenario that says something of heat: the heater's power, a night, another room, lamps or weather. Null for one that says nothing
 * of it: there the water is kept at its temperature.
 */
export function climateOf(s: Scenario): Climate | null {
  const ownRoomC: Record<string, number> = {};
  for (const { name, room } of s.tank) if (room !== undefined) ownRoomC[name] = room;
  if (s.sump.room !== undefined) ownRoomC.sump = s.sump.room;
  const told =
    s.heater !== undefined ||
    s.room.night !== undefined ||
    s.lamps > 0 ||
    Object.keys(ownRoomC).length > 0 ||
    s.timeline.some((e) => e.do === "weather");
  if (!told) return null;
  return { dayC: s.room.temperature, nightC: s.room.night ?? s.room.temperature, ownRoomC, lampsW: s.lamps };
}
