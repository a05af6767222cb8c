// Hot or cold weather: the air of the room, for some days. The water follows where its heat balance is part of the run.
import { eventRule } from "./rule.ts";

export interface Weather {
  readonly kind: "weather";
  /** Warmest and coldest of the day in the room [°C]. */
  readonly dayC: number;
  readonly nightC: number;
  /** How long it lasts [d]; null = to the end. */
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
    run.moments.at(day + lastsDays, () => {
      if (run.operating.weather === weather) set(day + lastsDays, null);
    });
  },
  { isShock: () => true, inCalendar: false },
);
