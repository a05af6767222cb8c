// The lid of every tower.
import { oneOf } from "../fields/fields.ts";
import { eventFormat } from "./event-format.ts";

export const lid = eventFormat(
  "lid",
  "The tower's lid.",
  { state: oneOf(["open", "vented", "sealed"], "how air reaches the media") },
  (e) => ({ body: { kind: "lid", state: e.state }, label: `tower lid ${e.state}` }),
);
