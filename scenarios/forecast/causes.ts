// Possible causes of readings that do not fit: each is a change of the set-up or of the kits, with the one test that
// reveals it.
import type { ManagementEvent } from "../../models/nitrogen/events/all.ts";
import { even, logEven } from "../../sim/design/distributions.ts";
import type { BaseCase } from "../model/members.ts";
import type { KitScale } from "./kit.ts";

export const CAUSE_IDS = [
  "as written",
  "alkalinity gone",
  "too cold",
  "nitrite basis",
  "kit ends early",
  "water not changed",
  "dry media",
  "chloramine",
  "something dead",
  "wrong volume",
  "dead seed",
  "medicine",
  "overdose",
  "hidden uptake",
] as const;
export type CauseId = (typeof CAUSE_IDS)[number];

export interface Cause {
  readonly id: CauseId;
  /** Description of the cause, as a clause. */
  readonly title: string;
  /** The one test that reveals it; null if only time does. */
  readonly test: string | null;
  /** Relative prior probability (modelling assumption; no statistics exist). */
  readonly beforehand: number;
  readonly applies: (base: BaseCase) => boolean;
  /** @param u two numbers in [0, 1): strength and time */
  readonly change?: (base: BaseCase, u: readonly [strength: number, moment: number]) => BaseCase;
  readonly kit?: (scales: readonly KitScale[]) => readonly KitScale[];
}

type Plan = BaseCase["setup"]["management"];

const plan = (base: BaseCase, change: (plan: Plan) => Plan): BaseCase => ({
  ...base,
  setup: { ...base.setup, management: change(base.setup.management) },
});
const events = (base: BaseCase, change: (events: readonly ManagementEvent[]) => readonly ManagementEvent[]): BaseCase =>
  plan(base, (management) => ({ ...management, events: change(management.events) }));
const withEvent = (base: BaseCase, event: ManagementEvent): BaseCase =>
  events(base, (list) => [...list, event].sort((a, b) => a.day - b.day));
const doses = ({ setup }: BaseCase): boolean => setup.management.events.some(({ kind }) => kind === "dose");
const changesWater = ({ setup }: BaseCase): boolean => setup.management.events.some(({ kind }) => kind === "water change");
const always = (): boolean => true;

/** Strength of each cause, from just relevant to the worst seen in practice (modelling assumptions). */
const STRENGTH = {
  alkalinityLeft: logEven(0.08, 0.3),
  colderC: even(5, 12),
  wetLeft: logEven(0.01, 0.1),
  chloramineGPerM3: even(1.5, 4),
  deadGPerM3: logEven(100, 600),
  volume: logEven(0.35, 0.65),
  seedLeft: logEven(1e-3, 3e-2),
  killed: even(0.7, 0.98),
  overdose: logEven(2.2, 5),
  uptakeGNPerM3: logEven(0.15, 0.6),
} as const;
/** An event occurs within this many first days [d]. */
const WITHIN_DAYS = 18;

export const CAUSES: readonly Cause[] = [
  {
    id: "as written",
    title: "nothing is wrong: it is simply too early, or your bacteria are slow",
    test: null,
    beforehand: 4,
    applies: always,
  },
  {
    id: "alkalinity gone",
    title: "the water had far less alkalinity than written, and it is used up",
    test: "Measure KH: under 1 dKH the bacteria stand still.",
    beforehand: 2,
    applies: always,
    change: (base, [u]) => {
      const left = STRENGTH.alkalinityLeft(u);
      const less = <W extends { readonly alkalinityEqPerM3: number }>(water: W): W => ({
        ...water,
        alkalinityEqPerM3: water.alkalinityEqPerM3 * left,
      });
      return plan(base, (m) => ({
        ...m,
        start: less(m.start),
        tap: less(m.tap),
        events: m.events.map((event) => (event.kind === "water change" ? { ...event, tap: less(event.tap) } : event)),
      }));
    },
  },
  {
    id: "too cold",
    title: "the water is much colder than written",
    test: "Measure the temperature with a second thermometer.",
    beforehand: 2,
    applies: ({ setup }) => setup.management.temperatureC > 14,
    change: (base, [u]) => plan(base, (m) => ({ ...m, temperatureC: Math.max(8, m.temperatureC - STRENGTH.colderC(u)) })),
  },
  {
    id: "nitrite basis",
    title: "your nitrite kit prints another basis than written: nitrogen in place of the ion, or the other way round",
    test: "Read the leaflet of the nitrite kit: NO2, or NO2-N? If it does not say, measure a solution of known strength.",
    beforehand: 1,
    applies: always,
    kit: (scales) =>
      scales.map((scale) =>
        scale.species === "nitrite" ? { ...scale, perN: scale.perN.map((perN) => (perN > 2 ? 1 : ION_OF_NITRITE)) } : scale,
      ),
  },
  {
    id: "kit ends early",
    title: "your kits stop telling high values apart: the true ones are higher than the colours say",
    test: "Dilute a sample with three parts of tap water, measure again, and multiply by four.",
    beforehand: 1,
    applies: always,
    kit: (scales) => scales.map((scale) => ({ ...scale, saturates: (scale.steps[scale.steps.length - 1] ?? 1) / 4 })),
  },
  {
    id: "water not changed",
    title: "the water changes in the plan were not done, or were much smaller",
    test: "Measure nitrate before and after the next change of water: it should fall by the share that you change.",
    beforehand: 1,
    applies: changesWater,
    change: (base) => events(base, (list) => list.filter(({ kind }) => kind !== "water change")),
  },
  {
    id: "dry media",
    title: "most of the media stay dry, or the water runs past them over a clogged pad",
    test: "Open the tower while it runs and shine a light down: what does not glisten does nothing. Look whether the pad spills.",
    beforehand: 2,
    applies: ({ setup }) => setup.rig.towers.length > 0,
    change: (base, [u]) => ({ ...base, wettedShare: base.wettedShare.map((share) => share * STRENGTH.wetLeft(u)) }),
  },
  {
    id: "chloramine",
    title: "chloramine from the tap killed bacteria at each change of water, and left its ammonia",
    test: "Measure ammonia and total chlorine in plain tap water, before any conditioner.",
    beforehand: 1,
    applies: changesWater,
    change: (base, [u]) =>
      events(base, (list) =>
        list.map((event) =>
          event.kind === "water change"
            ? { ...event, tap: { ...event.tap, treated: false, chloramineGPerM3: STRENGTH.chloramineGPerM3(u) } }
            : event,
        ),
      ),
  },
  {
    id: "something dead",
    title: "something dead lies in the tank and gives off ammonia",
    test: "Count the animals, and look behind rocks, in the overflow box and in the sump.",
    beforehand: 2,
    applies: always,
    change: (base, [u, when]) => {
      const waterM3 = base.setup.exchange.volumesM3.reduce((a, b) => a + b, 0);
      return withEvent(base, {
        day: 1 + WITHIN_DAYS * when,
        label: "something dies unseen",
        kind: "death",
        massG: STRENGTH.deadGPerM3(u) * waterM3,
        foundDay: null,
      });
    },
  },
  {
    id: "wrong volume",
    title: "there is much less water in the system than written, so that every dose is stronger",
    test: "Measure ammonia an hour after a dose of known grams: it tells the volume.",
    beforehand: 1,
    applies: doses,
    change: (base, [u]) => {
      const factor = STRENGTH.volume(u);
      const { exchange } = base.setup;
      const smaller: BaseCase = {
        ...base,
        setup: { ...base.setup, exchange: { ...exchange, volumesM3: exchange.volumesM3.map((m3) => m3 * factor) } },
      };
      return events(smaller, (list) =>
        list.map((event) => (event.kind === "dose" && event.toLevel ? { ...event, toLevel: event.toLevel / factor } : event)),
      );
    },
  },
  {
    id: "dead seed",
    title: "the bacteria that were brought along were dead, or of another salinity",
    test: "Add seed that you know is alive, from media of a running tank in the same kind of water; ammonia should fall within days.",
    beforehand: 2,
    applies: always,
    change: (base, [u]) =>
      plan(base, (m) => {
        const left = STRENGTH.seedLeft(u);
        return { ...m, seed: { ...m.seed, low: m.seed.low * left, likely: m.seed.likely * left, high: m.seed.high * left } };
      }),
  },
  {
    id: "medicine",
    title: "a medicine, or residue of one, killed or stunned the bacteria",
    test: "Ask what went into the water, and on which day; look for what stands in reach of the tank.",
    beforehand: 1,
    applies: always,
    change: (base, [u, when]) =>
      withEvent(base, {
        day: 3 + WITHIN_DAYS * when,
        label: "an unknown medicine",
        kind: "medicine",
        aobLost: STRENGTH.killed(u),
        nobLost: STRENGTH.killed(u),
        inhibition: 0.8,
        lastsDays: 7,
      }),
  },
  {
    id: "overdose",
    title: "far more ammonia or food goes in than written",
    test: "Weigh what goes in on one day; measure ammonia an hour after a dose.",
    beforehand: 2,
    applies: always,
    change: (base, [u]) => {
      const factor = STRENGTH.overdose(u);
      return plan(base, (m) => ({
        ...m,
        groups: m.groups.map((group) => ({ ...group, foodGPerDay: group.foodGPerDay * factor })),
        events: m.events.map((event) =>
          event.kind === "dose" && (event.substance === "ammonia" || event.substance === "ammonium")
            ? { ...event, toLevel: event.toLevel && event.toLevel * factor, amount: event.amount && event.amount * factor }
            : event,
        ),
      }));
    },
  },
  {
    id: "hidden uptake",
    title: "plants, algae or an absorber in the filter take nitrogen out unseen",
    test: "Add up the nitrogen that went in; if less stands in the water as nitrate, something takes it out. Look for algae and for absorber bags.",
    beforehand: 1,
    applies: always,
    change: (base, [u]) => {
      const waterM3 = base.setup.exchange.volumesM3.reduce((a, b) => a + b, 0);
      return plan(base, (m) => ({
        ...m,
        plants: { uptakeGNPerDay: (m.plants?.uptakeGNPerDay ?? 0) + STRENGTH.uptakeGNPerM3(u) * waterM3 },
      }));
    },
  },
];

/** Mass of nitrite per mass of its nitrogen [g/g]. */
const ION_OF_NITRITE = 3.2845;

export const causeNamed = (id: CauseId): Cause => CAUSES.find((cause) => cause.id === id)!;
