// Climate of a scenario: whether the water follows the room, and the rooms of its parts.
import type { Climate } from "../../models/nitrogen/management.ts";
import type { Scenario } from "../schema/schema.ts";

/**
 * Climate of a scenario that states the heater's power, a night temperature, another room, lamps, weather or the temperature of
 * the tap water. Null if it states none of them: the water then stays at its temperature.
 */
export function climateOf(s: Scenario): Climate | null {
  const places = [...s.tank.map((tank) => [tank.name, tank] as const), ["sump", s.sump] as const];
  const ownRooms = Object.fromEntries(
    places.flatMap(([id, place]) => {
      const { room, "room night": night } = place;
      if (room === undefined && night === undefined) return [];
      const dayC = room ?? s.room.temperature;
      return [[id, { dayC, nightC: night ?? dayC }]];
    }),
  );
  const mentionsHeat =
    s.heater !== undefined ||
    s.room.night !== undefined ||
    s.lamps > 0 ||
    Object.keys(ownRooms).length > 0 ||
    s.tap.temperature !== undefined ||
    s.timeline.some((e) => e.do === "weather" || (e.do === "water change" && e.tap?.temperature !== undefined));
  if (!mentionsHeat) return null;
  return { dayC: s.room.temperature, nightC: s.room.night ?? s.room.temperature, ownRooms, lampsW: s.lamps };
}
