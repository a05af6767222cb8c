// "At the restart after 8 h the tank falls from 22.4 to 20.1 °C within minutes."

import type { Cut } from "../../models/outage/cut.ts";
import type { RestartTemperature } from "../../models/outage/restart-temperature.ts";
import type { Statement } from "../result/statement.ts";
import { duration, hours, sentence, temperature } from "../text/message.ts";

/** Smallest change that is reported, and the one from which it strains animals [K] (common practice, no published source). */
const TELLING_K = 1;
const STRAINING_K = 3;

export function restartFindings({ hours: lasts }: Cut, { displayC, otherC, mixedC, turnoverS }: RestartTemperature): Statement[] {
  const change = Math.abs(mixedC - displayC);
  if (!(change >= TELLING_K) || !Number.isFinite(turnoverS)) return [];
  const strains = change >= STRAINING_K;
  const falls = mixedC < displayC;
  return [
    {
      id: "restart-temperature",
      topic: "power cut",
      consequence: strains ? "harm" : "none",
      likelihood: "expected",
      word: falls ? "COLD RESTART" : "WARM RESTART",
      text: sentence`After a power cut of ${hours(lasts)} the tank is at ${temperature(displayC)} and the water of the sump at ${temperature(otherC)}. When the pump starts again they mix: within about ${duration(turnoverS)} the tank ${falls ? "falls" : "rises"} to ${temperature(mixedC)}.`,
      value: mixedC,
      unit: "°C",
      advice: falls
        ? "Start the pump for a few seconds every few minutes, or with its valve nearly shut, so that the mixing takes an hour or more; heaters that are under water may run in the sump before."
        : "Start the pump for a few seconds every few minutes, or with its valve nearly shut, so that the mixing takes an hour or more.",
    },
  ];
}
