// A small battery during an outage: how long it runs each load, and in which order to use it.

/**
 * Share of the battery's rated energy that reaches the load, after depth of discharge and inverter losses (common
 * practice, no published source).
 */
export const USABLE_SHARE = { low: 0.6, likely: 0.8, high: 0.95 } as const;

export type LoadId = "air" | "return" | "heater";

export interface Loads {
  readonly airW: number;
  readonly returnW: number;
  readonly heaterW: number;
}

/** Runtime in hours when a low, likely or high share of the rated energy reaches the load. */
export interface RuntimeH {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

export interface BatteryAnswer {
  /** Runtime of each load alone. Loads of zero watts are left out. */
  readonly alone: readonly { readonly id: LoadId; readonly watts: number; readonly hours: RuntimeH }[];
  /** Runtime with all loads connected at once. */
  readonly allTogether: RuntimeH;
  /** Loads to run and their hours, in order of priority; never includes the heater. */
  readonly order: readonly { readonly id: LoadId; readonly hours: number }[];
  readonly words: readonly string[];
}

/** Runtime of a load on a battery [h], from Wh and W. */
export function runtimeH(capacityWh: number, watts: number): RuntimeH {
  const hours = (share: number) => (capacityWh * share) / watts;
  return { low: hours(USABLE_SHARE.low), likely: hours(USABLE_SHARE.likely), high: hours(USABLE_SHARE.high) };
}

/**
 * Priority of loads in an outage of `cutHours`: air through the whole outage, then the return pump on what is left, the
 * heater never (a watt of heat costs as much energy as a watt of air, and the tank keeps its heat for hours). Common
 * practice, no published source.
 */
export function batteryAnswer(capacityWh: number, loads: Loads, cutHours: number): BatteryAnswer {
  const watts: readonly (readonly [LoadId, number])[] = [
    ["air", loads.airW],
    ["return", loads.returnW],
    ["heater", loads.heaterW],
  ];
  const present = watts.filter(([, w]) => w > 0);
  const usable = capacityWh * USABLE_SHARE.likely;
  const airHours = loads.airW > 0 ? Math.min(cutHours, usable / loads.airW) : 0;
  const left = usable - airHours * loads.airW;
  const returnHours = loads.returnW > 0 ? Math.min(cutHours, left / loads.returnW) : 0;
  const order: { readonly id: LoadId; readonly hours: number }[] = [];
  if (airHours > 0) order.push({ id: "air", hours: airHours });
  if (returnHours > 0) order.push({ id: "return", hours: returnHours });
  return {
    alone: present.map(([id, w]) => ({ id, watts: w, hours: runtimeH(capacityWh, w) })),
    allTogether: runtimeH(
      capacityWh,
      present.reduce((sum, [, w]) => sum + w, 0),
    ),
    order,
    words: [
      airHours >= cutHours
        ? "Run the air pump first: the battery lasts for the whole power cut."
        : `Run the air pump first: the battery lasts for ${airHours.toFixed(0)} of ${cutHours.toFixed(0)} hours, so run it for a quarter of an hour at a time.`,
      ...(returnHours > 0
        ? [
            `What is left runs the return pump for ${returnHours < 1.5 ? "about an hour" : `${returnHours.toFixed(0)} hours`}; it brings air and wets the media.`,
          ]
        : []),
      "Then wrap the sides in a blanket, and leave the top open for air.",
      "Do not run the heater: it empties the battery in an hour or two and hardly warms the tank.",
    ],
  };
}
