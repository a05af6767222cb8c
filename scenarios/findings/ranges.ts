// Ranges of uncertain numbers, in words.
import { type Message, sentence, span } from "../text/message.ts";

/** " (in nine runs of ten 0.3 to 0.9 mg/L as NH4)" */
export const between = (species: "ammonia" | "nitrite", range: readonly [number, number]): Message =>
  sentence` (in nine runs of ten ${span(species, range)})`;
