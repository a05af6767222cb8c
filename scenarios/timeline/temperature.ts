// The set-point of the thermostat.
import { temperature as temperatureField } from "../fields/fields.ts";
import * as format from "../text/format.ts";
import { eventFormat } from "./event-format.ts";

export const temperature = eventFormat({
  name: "temperature",
  about: "The thermostat is set to another temperature.",
  keys: { to: temperatureField({ about: "new set point", within: ["2 C", "38 C"], usual: ["16 C", "30 C"] }) },
  build: (e, { notes }) => ({
    body: { kind: "temperature", setpointC: e.to },
    label: `thermostat to ${format.temperature(e.to)[notes.units]}`,
  }),
  inWords: (e) => `The thermostat is set to ${e.to ?? "another value"}`,
  advice: "Warm water holds less oxygen, and everything in it uses more: add air, feed less, open the cabinet.",
});
