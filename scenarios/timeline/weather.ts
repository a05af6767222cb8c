// Hot or cold weather for some days.
import { SECONDS_PER_DAY } from "../../sim/time.ts";
import { derived, duration, temperature } from "../fields/fields.ts";
import * as format from "../text/format.ts";
import { eventFormat } from "./event-format.ts";

export const weather = eventFormat({
  name: "weather",
  about: "Hot or cold weather: the room for some days. The water follows, as heater, pump and evaporation let it.",
  keys: {
    room: temperature({ about: "the room in the warmest hour of the day", within: ["-20 C", "50 C"], example: "34 C" }),
    night: derived(
      temperature({ about: "the room in the coldest hour of the night", within: ["-20 C", "50 C"], example: "26 C" }),
      "as by day",
    ),
    for: duration({ about: "how long; to the end when left out", within: ["1 h", "3660 days"], example: "5 days" }).optional(),
  },
  build: (e, { notes }) => ({
    body: {
      kind: "weather",
      dayC: e.room,
      nightC: e.night ?? e.room,
      lastsDays: e.for === undefined ? null : e.for / SECONDS_PER_DAY,
    },
    label: `room at ${format.temperature(e.room)[notes.units]}`,
  }),
  inWords: (e) => `The room at ${e.room ?? "another temperature"}${e.for ? ` for ${e.for}` : " from now on"}`,
});
