// Ranges of uncertain numbers, in words.
import { type Message, sentence, span } from "../text/message.ts";

/** Narrower ranges are not worth saying: in g N/m³, and of the reading. */
const NARROW_G_PER_M3 = 0.004;
const NARROW_SHARE = 0.03;

/**
 * " (nine runs in ten: 0.3 to 0.9)", on the scale of the reading before it; nothing where the range is too narrow for a kit
 * @param again whether the sentence has said before what a range stands for
 */
export function between(species: "ammonia" | "nitrite", range: readonly [number, number], again = false): Message {
  const [low, high] = range;
  if (high - low < Math.max(NARROW_G_PER_M3, NARROW_SHARE * high)) return [];
  return sentence` (${again ? "" : "nine runs in ten: "}${{ ...span(species, range), bare: true }})`;
}
