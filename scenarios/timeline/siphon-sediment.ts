// Siphons settled solids out of the sump.
import { eventFormat } from "./event-format.ts";

export const siphonSediment = eventFormat("siphon sediment", "Dirt siphoned out of the sump.", {}, () => ({
  body: { kind: "siphon sediment" },
  label: "sediment siphoned",
}));
