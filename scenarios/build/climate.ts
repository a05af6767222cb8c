// Climate of a scenario: whether the water follows the room, and the rooms of its parts.
import type { Climate } from "../../models/nitrogen/management.ts";
import type { Scenario } from "../schema/schema.ts";

/**
 * Climate of a scenario that states the heater's power, a night temperature, another room, lamps or weather. Null if it
 * states none of them: the water then stays at its temperature.
 */
export function climateOf(s: Scenario): Climate | null {
  const ownRoomC: Record<string, number> = {};
  for (const { name, room } of s.tank) if (room !== undefined) ownRoomC[name] = room;
  if (s.sump.room !== undefined) ownRoomC.sump = s.sump.room;
  const mentionsHeat =
    s.heater !== undefined ||
    s.room.night !== undefined ||
    s.lamps > 0 ||
    Object.keys(ownRoomC).length > 0 ||
    s.timeline.some((e) => e.do === "weather");
  if (!mentionsHeat) return null;
  return { dayC: s.room.temperature, nightC: s.room.night ?? s.room.temperature, ownRoomC, lampsW: s.lamps };
}
