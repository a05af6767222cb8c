// Plants that are added or removed.
import { massPerDay } from "../fields/fields.ts";
import { eventFormat } from "./event-format.ts";

export const plants = eventFormat({
  name: "plants",
  about: "Plants put in or taken out.",
  keys: {
    uptake: massPerDay({
      about: "nitrogen taken up in a day by all plants",
      within: ["0 g/day", "1000 g/day"],
      example: "0.2 g/day",
    }),
  },
  build: (e) => ({ body: { kind: "plants", uptakeGNPerDay: e.uptake }, label: e.uptake === 0 ? "plants out" : "plants in" }),
  inWords: (e) => `Plants take up ${e.uptake ?? "some"}`,
});
