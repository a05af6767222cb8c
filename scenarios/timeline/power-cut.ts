// A power cut, or a return pump that stops. The outage that every run simulates has the same keys.
import type * as z from "zod";
import type { PowerCut } from "../../models/nitrogen/operation/outage-record.ts";
import { derived, duration, flow, oneOf, share, temperature, usually, yesNo } from "../fields/fields.ts";
import * as format from "../text/format.ts";
import type { Notes } from "../text/notes.ts";
import { ASSUMED } from "../text/reasons.ts";
import { eventFormat } from "./event-format.ts";

export const outageFields = {
  for: usually(duration({ about: "how long", within: ["10 s", "60 days"], usual: ["20 s", "5 days"] }), "4 h", ASSUMED),
  "pump only": usually(
    yesNo("only the return pump is off; heater and air pump still run"),
    false,
    "a power cut stops everything",
  ),
  "pump stuck": duration({
    about: "for how long the return pump hums without turning after the power is back",
    within: ["1 min", "14 days"],
    example: "10 min",
  }).optional(),
  "battery air": usually(yesNo("an air stone runs on a battery"), false, "none given"),
  "battery air flow": flow({ about: "air flow of that pump", within: ["5 L/h", "5000 L/h"], example: "100 L/h" }).optional(),
  "stir every": duration({
    about: "how often somebody stirs the tank or pours water from a jug",
    within: ["1 min", "7 days"],
    example: "1 h",
  }).optional(),
  "mist every": duration({ about: "how often somebody wets the media", within: ["1 min", "7 days"], example: "2 h" }).optional(),
  "room temperature": temperature({
    about: "the room without heating",
    within: ["-20 C", "50 C"],
    example: "15 C",
  }).optional(),
  "room humidity": share({ about: "the room without heating", within: ["1 %", "100 %"], example: "40 %" }).optional(),
  "tower open": usually(yesNo("the tower stands open to the room"), false, "it stays closed"),
  "fed meanwhile": usually(yesNo("the animals are fed all the same"), false, "nobody feeds in a power cut"),
  "closed filter": derived(
    oneOf(
      ["restarted", "rinsed first", "left off"],
      "what is done with closed filters when the power is back: they run on with the water that stood in them, they are opened and rinsed before, or they stay off",
    ),
    "restarted: plugged in, it starts by itself",
  ),
};

/** The outage that the keys mean. `key` is its place in the file. */
export function outageOf(
  o: z.output<z.ZodObject<typeof outageFields>>,
  key: string,
  hasClosedFilter: boolean,
  notes: Notes,
): PowerCut {
  const hours = (s: number | undefined): number | null => (s === undefined ? null : s / 3600);
  const room =
    o["room temperature"] === undefined && o["room humidity"] === undefined
      ? null
      : { temperatureC: o["room temperature"] ?? 18, relativeHumidity: o["room humidity"] ?? 0.5 };
  return {
    kind: "power cut",
    hours: o.for / 3600,
    pumpStuckHours: hours(o["pump stuck"]) ?? 0,
    everythingOff: !o["pump only"],
    batteryAir: o["battery air"],
    ...(o["battery air flow"] === undefined ? {} : { batteryAirM3PerH: o["battery air flow"] * 3600 }),
    stirEveryHours: hours(o["stir every"]),
    mistEveryHours: hours(o["mist every"]),
    room,
    towerOpen: o["tower open"],
    fedMeanwhile: o["fed meanwhile"],
    closedFilter: hasClosedFilter
      ? notes.or(o["closed filter"], `${key}.closed filter`, "restarted", "restarted", "plugged in, it starts by itself")
      : "restarted",
  };
}

export const powerCut = eventFormat({
  name: "power cut",
  about: "No power.",
  keys: outageFields,
  build: (e, { hasClosedFilter, notes }, key) => ({
    body: outageOf(e, key, hasClosedFilter, notes),
    label: `${e["pump only"] ? "pump off" : "power cut"}, ${format.duration(e.for)}`,
  }),
  inWords: (e) => `No power for ${e.for ?? "4 h"}`,
});
