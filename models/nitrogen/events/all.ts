// All kinds of planned events. A new kind is a module in this folder and a line here.
import type { Management, OnDay } from "../management.ts";
import { airStoneRule } from "./air-stone.ts";
import { deathRule } from "./death.ts";
import { doseRule } from "./dose.ts";
import { feedRule } from "./feed.ts";
import { foamFractionatorRule } from "./foam-fractionator.ts";
import { lidRule } from "./lid.ts";
import { replaceMediaRule, rinseMediaRule } from "./media-loss.ts";
import { medicineRule } from "./medicine.ts";
import { changePadRule, padClogsRule } from "./pads.ts";
import { plantsRule } from "./plants.ts";
import { powerCutRule } from "./power-cut.ts";
import type { EventContext, EventRule } from "./rule.ts";
import { siphonSedimentRule } from "./siphon-sediment.ts";
import { temperatureRule } from "./temperature.ts";
import { waterChangeRule } from "./water-change.ts";
import { weatherRule } from "./weather.ts";
import { wettingRule } from "./wetting.ts";

const rules = [
  doseRule,
  feedRule,
  waterChangeRule,
  rinseMediaRule,
  replaceMediaRule,
  medicineRule,
  deathRule,
  powerCutRule,
  wettingRule,
  padClogsRule,
  changePadRule,
  siphonSedimentRule,
  lidRule,
  airStoneRule,
  foamFractionatorRule,
  temperatureRule,
  weatherRule,
  plantsRule,
] as const;

/** Kinds of planned events. */
export const eventKinds: readonly EventBody["kind"][] = rules.map(({ kind }) => kind);

/** The data of an event, without its day. */
export type EventBody = (typeof rules)[number] extends infer R ? (R extends EventRule<infer Body> ? Body : never) : never;
export type ManagementEvent = EventBody extends infer Body ? OnDay<Body> : never;

/** Management of a tank with its planned events. */
export interface Plan extends Management {
  readonly events: readonly ManagementEvent[];
}

const byKind = new Map<string, EventRule<EventBody>>(rules.map((rule) => [rule.kind, rule as EventRule<EventBody>]));

/** The rule of a kind; undefined for entries that no plan contains, such as the arrival of animals. */
export const ruleOf = (kind: string): EventRule<EventBody> | undefined => byKind.get(kind);

function ruleFor({ kind }: EventBody): EventRule<EventBody> {
  const rule = byKind.get(kind);
  if (!rule) throw new Error(`no rule for the event ${kind}`);
  return rule;
}

/** Applies an event and records it, unless it was not due. */
export function applyEvent(context: EventContext, event: ManagementEvent): void {
  if (ruleFor(event).apply(context, event)) context.run.mark(event.day, event.kind, event.label);
}

export const isShock = (event: ManagementEvent): boolean => ruleFor(event).isShock(event);
export const isHabit = (event: ManagementEvent): boolean => ruleFor(event).isHabit(event);
