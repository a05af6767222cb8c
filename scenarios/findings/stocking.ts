// What adding these animals does: the spike after each arrival or step in food, as people count it.
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import { above, track } from "../analysis/series.ts";
import { CLEARED_NO2, CLEARED_TAN } from "../model/readiness.ts";
import type { Statement } from "../result/statement.ts";
import { concentration, lasting, sentence } from "../text/message.ts";

/** Days after a step in which its spike is looked for. */
const WINDOW_DAYS = 21;

export function stockingFindings(run: Run): Statement[] {
  const { management } = run.aquarium;
  const steps = [
    ...new Set([
      ...management.groups.map((group) => group.arrivesDay).filter((day) => day > 0),
      ...management.events.filter((event) => event.kind === "feed").map((event) => event.day),
    ]),
  ].sort((a, b) => a - b);
  if (steps.length === 0) return [];
  const peaks = (["tan", "no2"] as const).map((substance) => {
    const t = track(run, substance);
    let value = 0;
    let day = 0;
    t.days.forEach((d, n) => {
      if (steps.some((step) => d > step && d <= step + WINDOW_DAYS) && t.values[n] > value) {
        value = t.values[n];
        day = d;
      }
    });
    return { value, day, t };
  });
  const [tan, no2] = peaks;
  const arrivals = management.groups.filter((group) => group.arrivesDay > 0);
  const what =
    arrivals.length === 0
      ? "The change of food"
      : arrivals.length === 1
        ? `Adding ${arrivals[0].count} ${arrivals[0].name}`
        : `Adding ${arrivals.reduce((sum, group) => sum + group.count, 0)} animals in ${new Set(arrivals.map((group) => group.arrivesDay)).size} lots`;
  if (tan.value < CLEARED_TAN && no2.value < CLEARED_NO2)
    return [
      {
        id: "step",
        topic: "stocking",
        level: "info",
        word: "NOTE",
        text: sentence`${what} shows nothing that a kit can read: highest ammonia ${concentration("ammonia", tan.value)}, nitrite ${concentration("nitrite", no2.value)}.`,
        value: no2.value,
        unit: "g N/m3",
      },
    ];
  const days = above(no2.t, CLEARED_NO2, steps[0]).days;
  const ammoniaDays = above(tan.t, CLEARED_TAN, steps[0]).days;
  return [
    {
      id: "step",
      topic: "stocking",
      level: "watch",
      word: "SPIKE",
      text: sentence`${what}: ammonia up to ${concentration("ammonia", tan.value)} on day ${Math.round(tan.day)} (readable for ${lasting(ammoniaDays)}), nitrite up to ${concentration("nitrite", no2.value)} on day ${Math.round(no2.day)} (readable for ${lasting(days)}).`,
      value: no2.value,
      unit: "g N/m3",
      advice: "Half portions for the first two weeks, or smaller lots a fortnight apart, avoid most of it.",
    },
  ];
}
