// All kinds of planned events in the file format. A new kind is a module in this folder and a line here.
import * as z from "zod";
import type { ManagementEvent } from "../../models/nitrogen/events/all.ts";
import { airStone } from "./air-stone.ts";
import { death } from "./death.ts";
import { addBicarbonate, addChloride, doseAmmonia, doseNitrite } from "./dose.ts";
import type { EventSetting, LabelledEvent } from "./event-format.ts";
import { feed } from "./feed.ts";
import { foamFractionator } from "./foam-fractionator.ts";
import { lid } from "./lid.ts";
import { replaceMedia, rinseMedia } from "./media-loss.ts";
import { medicine } from "./medicine.ts";
import { changePad, padClogs } from "./pads.ts";
import { plants } from "./plants.ts";
import { powerCut } from "./power-cut.ts";
import { siphonSediment } from "./siphon-sediment.ts";
import { temperature } from "./temperature.ts";
import { waterChange } from "./water-change.ts";
import { weather } from "./weather.ts";
import { wetting } from "./wetting.ts";

const FORMATS = [
  doseAmmonia,
  doseNitrite,
  addBicarbonate,
  addChloride,
  feed,
  waterChange,
  rinseMedia,
  replaceMedia,
  medicine,
  death,
  powerCut,
  wetting,
  padClogs,
  changePad,
  siphonSediment,
  lid,
  airStone,
  foamFractionator,
  temperature,
  weather,
  plants,
] as const;

/** The words allowed after `do:`. */
export const EVENT_NAMES: readonly string[] = FORMATS.map(({ name }) => name);

type Schemas<Formats> = { -readonly [I in keyof Formats]: Formats[I] extends { readonly schema: infer Schema } ? Schema : never };

export const timelineEvent = z
  .discriminatedUnion("do", FORMATS.map(({ schema }) => schema) as unknown as Schemas<typeof FORMATS>, {
    error: (issue) =>
      issue.code === "invalid_union"
        ? `write one of ${EVENT_NAMES.join(", ")}`
        : "write an event here, for example { at: day 7, do: water change, share: 30 % }",
  })
  .meta({ description: "an event", example: "{ at: day 7, do: water change, share: 30 % }" });

type Build = (written: WrittenEvent, setting: EventSetting, key: string) => LabelledEvent;

/** An event as parsed. */
export type WrittenEvent = z.output<typeof timelineEvent>;

const formatOf = new Map<
  string,
  { readonly build: Build; readonly inWords: (typeof FORMATS)[number]["inWords"]; readonly advice?: string }
>(FORMATS.map(({ name, build, ...rest }) => [name, { build: build as Build, ...rest }]));

/** The event that the keys mean, and its label. `key` is its place in the file. */
export const buildEvent: Build = (written, setting, key) => formatOf.get(written.do)!.build(written, setting, key);

/** An event as written in the file, in words; null where it has no known kind yet. */
export const eventInWords = (name: string, written: Readonly<Record<string, unknown>>): string | null =>
  formatOf.get(name)?.inWords(written) ?? null;

/** What to do about the effect of an event; undefined where it is no shock. */
export const adviceOf = (kind: ManagementEvent["kind"]): string | undefined => formatOf.get(kind)?.advice;
