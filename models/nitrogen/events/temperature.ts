// Changes the set-point of the thermostat.
import { eventRule } from "./rule.ts";

export interface Temperature {
  readonly kind: "temperature";
  readonly setpointC: number;
}

export const temperatureRule = eventRule<Temperature>(
  "temperature",
  ({ run }, { day, setpointC }) => {
    const { running, temperatureC } = run.operating;
    run.operate({ setpointC, ...(running && !run.heat ? { temperatureC: temperatureC.map(() => setpointC) } : {}) });
    run.heat?.changed(day);
  },
  { isShock: () => true },
);
