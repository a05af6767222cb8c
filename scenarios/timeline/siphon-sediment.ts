// Siphons settled solids out of the sump.
import { eventFormat } from "./event-format.ts";

export const siphonSediment = eventFormat({
  name: "siphon sediment",
  about: "Dirt siphoned out of the sump.",
  keys: {},
  build: () => ({
    body: { kind: "siphon sediment" },
    label: "sediment siphoned",
  }),
  inWords: () => "Dirt siphoned out of the sump",
});
