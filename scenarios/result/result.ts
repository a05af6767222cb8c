// Result of a run for the page, JSON and CSV: plain data with a version. The page draws it and computes no physics.
import type { Rig } from "../../models/rig.ts";
import type { Message } from "../text/message.ts";

export const RESULT_FORMAT = "sumpwright-result";
export const RESULT_VERSION = 1;

/** alarm = act now; watch = keep an eye on it; info = for information. It follows from consequence and likelihood. */
export type Level = "info" | "watch" | "alarm";

/** Effect: water on the floor or dead animals; animals or filter harmed; work or nuisance; none. */
export type Consequence = "loss" | "harm" | "nuisance" | "none";

/** Likelihood: part of the plan, expected sooner or later, possible, rare. */
export type Likelihood = "planned" | "expected" | "possible" | "rare";

/** A sentence in the scenario's own units, and with separate quantities where it has any. */
export interface Spoken {
  readonly text: string;
  readonly said?: Message;
}

export type FindingTopic = "cycle" | "stocking" | "water" | "power cut" | "hydraulics" | "upkeep" | "fit";

/** One sentence with one number that a ruler or a kit can check. */
export interface Finding {
  readonly id: string;
  readonly topic: FindingTopic;
  readonly level: Level;
  readonly consequence: Consequence;
  readonly likelihood: Likelihood;
  /** The short word beside the symbol: READY, NOT YET, HOLDS, TIGHT, FLOODS, WATCH, NOTE ... */
  readonly word: string;
  /** The sentence in the scenario's units. */
  readonly text: string;
  readonly value: number | null;
  readonly unit: string;
  /** What to do about it, if anything. */
  readonly advice?: string;
  /** `text` and `advice` with separate quantities, for readers with other units; absent where there are none. */
  readonly said?: Message;
  readonly advised?: Message;
  /** The cheapest change that helps, and what remains after it; every alarm has one. */
  readonly remedy?: Spoken;
  /** The answer in one short sentence, for findings that a question may be about. */
  readonly brief?: Spoken;
  /** Whether it follows from the rig alone, so that an earlier one is valid while the rig is the same. */
  readonly ofRig?: true;
}

/** The three main jobs of users. */
export type Job = "ready" | "power cut" | "stocking";

/** One answer at the top of the page: a symbol, a word, one sentence. */
export interface LeadAnswer extends Spoken {
  readonly job: Job;
  readonly level: Level;
  readonly word: string;
  /** Ids of the findings that it summarises, the main one first. */
  readonly findings: readonly string[];
  /** What to draw beside it: series of the nitrogen result by id, or an outage trace by id. */
  readonly show: { readonly series: readonly string[] } | { readonly story: string };
}

/** The first section of the page. */
export interface Answer {
  /** The question of the scenario, or a plain one where it has none. */
  readonly question: string;
  /** One or two short sentences that answer it. */
  readonly sentences: readonly Spoken[];
  readonly lead: readonly LeadAnswer[];
  /** Ids of all findings, the most urgent first. */
  readonly groups: { readonly doNow: readonly string[]; readonly watch: readonly string[]; readonly know: readonly string[] };
}

/** One line of a chart. `values[i]` belongs to `timeDays[i]`; null where the quantity does not exist. */
export interface Series {
  readonly id: string;
  readonly label: string;
  /** g N/m³ for nitrogen, otherwise as printed. */
  readonly unit: string;
  /** The chart that shows it. */
  readonly panel:
    | "nitrogen"
    | "oxygen"
    | "ph"
    | "alkalinity"
    | "temperature"
    | "biomass"
    | "solids"
    | "organics"
    | "spill"
    | "sediment";
  /** Name of the cell or surface. */
  readonly place: string;
  readonly values: readonly (number | null)[];
}

/** Quantiles of the ensemble at each time: early, likely and late. */
export interface Band {
  readonly series: string;
  readonly low: readonly number[];
  readonly middle: readonly number[];
  readonly high: readonly number[];
  /** In words, for example "90 of 100 seeds lie in here". */
  readonly meaning: string;
}

export interface TimelineMark {
  readonly day: number;
  readonly kind: string;
  readonly label: string;
}

export interface VesselTrace {
  readonly id: string;
  readonly name: string;
  readonly kind: string;
  /** Id of the part of the rig (display, overflow, tower, chamber, nozzle); "" for floor, air and reservoir. */
  readonly partOf: string;
  readonly bottomZ: number;
  readonly rimZ: number | null;
  /** Elevation of the water surface [m] at each time of the trace. */
  readonly levelZ: readonly number[];
}

export interface OutageEvent {
  readonly s: number;
  readonly id: string;
  readonly label: string;
}

/** One outage run: running, stop, rest, restart. */
export interface OutageTrace {
  readonly id: string;
  readonly title: string;
  readonly faults: readonly string[];
  readonly verdict: "HOLDS" | "TIGHT" | "FLOODS";
  readonly marginM: number;
  readonly floorM3: number;
  readonly timeS: readonly number[];
  readonly vessels: readonly VesselTrace[];
  /** Flow of each link at each time [m³/s]. */
  readonly flows: readonly {
    readonly id: string;
    readonly label: string;
    readonly from: string;
    readonly to: string;
    readonly m3PerS: readonly number[];
  }[];
  readonly events: readonly OutageEvent[];
}

export interface Ledger {
  /** g N: inputs and outputs by source and destination, and what remains at the end. */
  readonly in: readonly { readonly label: string; readonly gN: number }[];
  readonly out: readonly { readonly label: string; readonly gN: number }[];
  readonly stored: readonly { readonly label: string; readonly gN: number }[];
  /** |in - out - storage change| / in. */
  readonly imbalance: number;
}

export interface NitrogenResult {
  readonly timeDays: readonly number[];
  readonly series: readonly Series[];
  readonly bands: readonly Band[];
  readonly marks: readonly TimelineMark[];
  /** Cells and surfaces, for the drawing and the tables. */
  readonly cells: readonly { readonly id: string; readonly name: string; readonly volumeM3: number }[];
  readonly surfaces: readonly {
    readonly id: string;
    readonly name: string;
    readonly cell: string;
    readonly areaM2: number;
    readonly wettedAreaM2: number;
    readonly capacityGNPerDay: number;
    readonly loadGNPerDay: number;
  }[];
  /** Limit lines in a chart. */
  readonly limits: readonly {
    readonly panel: Series["panel"];
    readonly value: number;
    readonly label: string;
    readonly source: string;
  }[];
  readonly ledger: Ledger;
  /** Inert solids [g dry matter]: from the food, removed by each path, and remaining at the end. */
  readonly inertSolids: {
    readonly fedG: number;
    readonly out: readonly { readonly label: string; readonly g: number }[];
    readonly lyingG: number;
    /** |in - out - storage change| / in; 0 when nothing came in. */
    readonly imbalance: number;
  };
}

export interface HydraulicResult {
  readonly running: {
    readonly pumpFlowM3PerS: number;
    readonly turnoverPerHour: number;
    readonly levels: readonly { readonly vessel: string; readonly z: number; readonly belowRimM: number }[];
    readonly headBudget: readonly { readonly part: string; readonly headM: number }[];
    readonly drainInHandShare: number;
  };
  /** The plain outage first, then the worst ordinary single fault and the worst pair, and any that was requested. */
  readonly stories: readonly OutageTrace[];
  readonly faults: readonly { readonly id: string; readonly name: string; readonly ordinary: 1 | 2 | 3 }[];
  /** Verdict of each fault alone (b = a) and each pair. */
  readonly matrix: readonly {
    readonly a: string;
    readonly b: string;
    readonly verdict: "HOLDS" | "TIGHT" | "FLOODS";
    readonly marginM: number;
    readonly floorM3: number;
    readonly floorAfterS: number | null;
    /** Severity by consequence and likelihood of the fault or pair; never lower than that of the worse fault of a pair. */
    readonly level: Level;
  }[];
  readonly marks: {
    readonly maxRunningTrustedM: number | null;
    readonly maxRunningUntrustedM: number | null;
    /** Null where pump and drains have no steady state; the two above are null then too. */
    readonly minRunningM: number | null;
    readonly offLevelM: number;
    readonly runningM: number;
    readonly sumpRimM: number;
    /**
     * For each display, what happens when its main drain closes while the pump runs: another drain takes the water, the
     * pump runs dry first, or the display spills.
     */
    readonly fuses: readonly {
      readonly display: string;
      readonly outcome: "carried" | "runs dry" | "spills";
      /** Water that the pump can move before it draws air, and free volume of the display up to its rim [m³]. */
      readonly aboveIntakeM3: number;
      readonly headroomM3: number;
      readonly floorM3: number;
      readonly firstSpillS: number | null;
    }[];
  };
  /** Possible changes, each with its new value (SI) and the worst outcome that then remains. */
  readonly remedies: readonly {
    /** What to change; "{value}" stands for the new value. */
    readonly what: string;
    readonly value: number | null;
    readonly unit: "m" | "m2" | "m3" | "";
    readonly ease: number;
    readonly verdict: "HOLDS" | "TIGHT" | "FLOODS";
    readonly marginM: number;
    readonly floorM3: number;
  }[];
  readonly checks: readonly {
    readonly name: string;
    readonly rule: string;
    readonly value: number;
    /** m, m3, m3/s, share, share/day or 1/h. */
    readonly unit: string;
    readonly ok: boolean;
    readonly source: string;
  }[];
  readonly fit: readonly { readonly part: string; readonly ok: boolean; readonly spareM: number; readonly note: string }[];
  readonly load: {
    readonly parts: readonly { readonly part: string; readonly kg: number }[];
    readonly totalKg: number;
    readonly kPa: number | null;
    readonly lbPerFt2: number | null;
  };
  readonly waterImbalance: number;
  /** Largest depth of any vessel's level below its floor in the outage runs [m]; 0 when there is none. */
  readonly underFloorM: number;
}

/** One clock of an outage: when it turns amber and red [h after its start], with the range. */
export interface OutageClock {
  readonly id: string;
  readonly name: string;
  readonly amberH: readonly [number, number] | null;
  readonly redH: readonly [number, number] | null;
  readonly why: string;
  /** `why` with its quantities apart. */
  readonly said?: Message;
  readonly source: string;
}

/** Use of a battery in the default outage: which loads, in order of priority, for how long. */
export interface BatteryPlan {
  readonly capacityWh: number;
  readonly alone: readonly { readonly name: string; readonly watts: number; readonly hours: number }[];
  readonly order: readonly { readonly name: string; readonly hours: number }[];
  readonly words: readonly string[];
}

/** Readings of the keeper's own kits, mg/L on the kits' scales. */
export interface KitReading {
  readonly day: number;
  readonly ammonia: number | null;
  readonly nitrite: number | null;
  readonly nitrate: number | null;
  readonly ph: number | null;
  readonly alkalinityEqPerM3: number | null;
}

export interface RunResult {
  readonly format: typeof RESULT_FORMAT;
  readonly version: typeof RESULT_VERSION;
  readonly file: string;
  readonly name: string;
  readonly question: string;
  /** The scenario text, which the page offers again. */
  readonly source: string;
  readonly units: "metric" | "US";
  readonly kit: {
    readonly ammonia: string;
    readonly nitrite: string;
    readonly nitrate: string;
    readonly steps: {
      readonly ammonia: readonly number[];
      readonly nitrite: readonly number[];
      readonly nitrate: readonly number[];
    };
    readonly ceilings: { readonly ammonia: number; readonly nitrite: number; readonly nitrate: number };
  };
  readonly seed: string;
  readonly rig: Rig;
  /** Values of the scenario outside its rig that a reader may want to change. */
  readonly inputs: {
    readonly tapPh: number;
    readonly tapAlkalinityEqPerM3: number;
    /** Food that the filter must be ready for; null when the scenario does not say. */
    readonly foodGPerDay: number | null;
    /** The first group of animals; null when there are none. */
    readonly firstGroup: { readonly count: number; readonly foodGPerDay: number } | null;
    /** Length of the default outage. */
    readonly cutHours: number;
  };
  /** Author of the system; the logo is a data URL, so that a page contains it. Null when the scenario names nobody. */
  readonly firm: { readonly name: string; readonly contact: string; readonly logo: string | null } | null;
  readonly answer: Answer;
  readonly findings: readonly Finding[];
  readonly hydraulics: HydraulicResult;
  readonly nitrogen: NitrogenResult;
  readonly outage: readonly OutageClock[];
  readonly battery: BatteryPlan | null;
  /** After the power returns: what to test and when, what to check, what not to restart. */
  readonly aftermath: {
    readonly testDays: readonly number[];
    readonly checks: readonly string[];
    readonly doNotRestart: readonly string[];
  };
  readonly readings: readonly KitReading[];
  readonly calendar: readonly { readonly day: number; readonly title: string; readonly detail: string }[];
  readonly sensitivities: readonly { readonly text: string; readonly input: string; readonly effect: number }[];
  readonly defaults: readonly { readonly key: string; readonly value: string; readonly why: string }[];
  readonly warnings: readonly string[];
  readonly cautions: readonly { readonly title: string; readonly text: string }[];
  /** The process matrix and the parameters, as shown under "How it is computed". */
  readonly method: {
    readonly processes: readonly {
      readonly name: string;
      readonly rate: string;
      readonly stoichiometry: readonly { readonly component: string; readonly coefficient: number }[];
      readonly source: string;
    }[];
    readonly parameters: readonly {
      readonly symbol: string;
      readonly meaning: string;
      readonly value: number;
      readonly unit: string;
      readonly source: string;
    }[];
    readonly notes: readonly string[];
  };
  readonly statistics: {
    readonly steps: number;
    readonly rejected: number;
    readonly derivatives: number;
    readonly hydraulicRuns: number;
  };
}
