// Hot or cold weather: the room temperature for some days. The water follows if the run includes its heat balance.
import { eventRule } from "./rule.ts";

export interface Weather {
  readonly kind: "weather";
  /** Daily maximum and minimum of the room temperature [°C]. */
  readonly dayC: number;
  readonly nightC: number;
  /** Duration [d]; null = to the end of the run. */
  readonly lastsDays: number | null;
}

export const weatherRule = eventRule<Weather>(
  "weather",
  ({ run }, { day, dayC, nightC, lastsDays }) => {
    const weather = { dayC, nightC };
    const set = (on: number, now: typeof weather | null): void => {
      run.operate({ weather: now });
      run.heat?.changed(on);
    };
    set(day, weather);
    if (lastsDays === null) return;
    run.eventQueue.at(day + lastsDays, () => {
      if (run.operating.weather === weather) set(day + lastsDays, null);
    });
  },
  { isShock: () => true, inCalendar: false },
);
