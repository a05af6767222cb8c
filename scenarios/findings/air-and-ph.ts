// The pH that the room's air gives: a stated one is left within hours where water and air are not at rest with each other.
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import type { Statement } from "../result/statement.ts";
import { lasting, number, sentence } from "../text/message.ts";

/** A change that a kit shows. */
const READABLE = 0.3;
/** By then it is the air's doing, not yet that of bacteria and animals [d]. */
const WITHIN_DAYS = 2;
const PPM = 1e6;

export function airAndPhFindings(run: Run): Statement[] {
  const { management, rig, displayCells } = run.aquarium;
  const stated = management.start.ph;
  const of = (n: number): number => run.ph[n][displayCells[0]];
  const last = run.days.findLastIndex((on) => on <= WITHIN_DAYS);
  const left = run.days.findIndex((_, n) => Math.abs(of(n) - stated) >= READABLE);
  if (left < 0 || left > last) return [];
  const rises = of(left) > stated;
  return [
    {
      id: "ph-air",
      topic: "water",
      consequence: "none",
      likelihood: "planned",
      word: "PH AND AIR",
      text: sentence`The water begins at pH ${number(stated, 2)} and ${rises ? "rises" : "falls"} to ${number(of(last), 2)} within ${lasting(run.days[last])}: its alkalinity and the room's air, with ${number(rig.room.co2Share * PPM, 2)} ppm of carbon dioxide, set the pH of water that a filter aerates.`,
      value: of(last),
      unit: "pH",
      ...(rises
        ? {
            advice:
              "A higher pH makes more of the ammonia poisonous. If your water stays lower, the room's air holds more carbon dioxide: say so with `room: { co2: 1500 ppm }`.",
          }
        : {}),
    },
  ];
}
