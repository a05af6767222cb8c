// The lid of every tower.
import { oneOf } from "../fields/fields.ts";
import { eventFormat } from "./event-format.ts";

export const lid = eventFormat({
  name: "lid",
  about: "The tower's lid.",
  keys: { state: oneOf(["open", "vented", "sealed"], "how air reaches the media") },
  build: (e) => ({ body: { kind: "lid", state: e.state }, label: `tower lid ${e.state}` }),
  inWords: (e) => `The tower's lid is ${e.state ?? "changed"}`,
  advice: "A tower must breathe: a sealed lid keeps carbon dioxide in and pH down. Open a vent; it helps within a day.",
});
