// The declaration of one kind of planned event in the file format: its keys, and the event that they mean. Each kind is a
// module in this folder; `all.ts` lists them. The effect on the tank is in `models/nitrogen/events`.
import * as z from "zod";
import type { EventBody } from "../../models/nitrogen/events/all.ts";
import type { TapWater } from "../../models/nitrogen/management.ts";
import type { Display } from "../../models/rig.ts";
import { type Concentration, day, duration, section, words } from "../fields/fields.ts";
import type { tapFields } from "../fields/tap-water.ts";
import type { Species } from "../text/nitrogen-basis.ts";
import type { Notes } from "../text/notes.ts";

/** What the rest of the scenario contributes to an event. */
export interface EventSetting {
  /** Converts a concentration as written to g N/m³. */
  nitrogen(species: Species, written: Concentration): number;
  /** Tap water by its keys in the file, which are those of `tap` when the event has none of its own. */
  tap(written: z.output<z.ZodObject<typeof tapFields>> | undefined, key: string): TapWater;
  /** Water in the whole system, for doses given as a rise in concentration [m³]. */
  readonly waterM3: number;
  readonly temperatureC: number;
  readonly display: Display;
  readonly hasClosedFilter: boolean;
  readonly notes: Notes;
}

/** An event as the models know it, and its label on the page and in the calendar. */
export interface LabelledEvent {
  readonly body: EventBody;
  readonly label: string;
}

const common = {
  at: day("day of the first time"),
  every: duration({ about: "repeat after", within: ["1 h", "3660 days"], example: "7 days" }).optional(),
  until: day("day of the last repeat, at the latest").optional(),
  label: words("what the chart says", 80, false, "holiday").optional(),
};

const eventSchema = <Name extends string, Shape extends z.core.$ZodLooseShape>(name: Name, about: string, shape: Shape) =>
  section(about, { do: z.literal(name, { error: `write ${name}` }), ...common, ...shape });

/** One kind of event in the file format. */
interface EventFormat<Name extends string, Shape extends z.core.$ZodLooseShape> {
  /** The words after `do:`. */
  readonly name: Name;
  /** One sentence for the reference and the drawing board. */
  readonly about: string;
  /** Its own keys; those that all events have are added. */
  readonly keys: Shape;
  /** The event that the parsed keys mean; `key` is the place of the event in the file. */
  readonly build: (
    written: z.output<ReturnType<typeof eventSchema<Name, Shape>>>,
    setting: EventSetting,
    key: string,
  ) => LabelledEvent;
  /** The event in the calendar of the drawing board, from its keys as written, any of which may be missing. */
  readonly inWords: (written: Readonly<Record<string, unknown>>) => string;
  /** What to do about the effect of an event that is a shock. */
  readonly advice?: string;
}

export const eventFormat = <Name extends string, Shape extends z.core.$ZodLooseShape>(format: EventFormat<Name, Shape>) => ({
  ...format,
  schema: eventSchema(format.name, format.about, format.keys),
});
