// The foam fractionator, off and on.
import { oneOf } from "../fields/fields.ts";
import { eventFormat } from "./event-format.ts";

export const foamFractionator = eventFormat({
  name: "foam fractionator",
  about: "The foam fractionator is turned off, as before a medicine that it would take out, or on again.",
  keys: { state: oneOf(["off", "on"], "whether it runs from now on") },
  build: (e) => ({ body: { kind: "foam fractionator", on: e.state === "on" }, label: `foam fractionator ${e.state}` }),
  inWords: (e) => `Foam fractionator ${e.state ?? "off or on"}`,
});
