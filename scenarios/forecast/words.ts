// Sentences of a forecast.

import type { ResolvedScenario } from "../build/build.ts";
import { ScenarioFormatter } from "../build/scenario-formatter.ts";
import { USUAL_PROTEIN } from "../findings/ready.ts";
import { foodFor } from "../model/readiness.ts";
import type { InputId, UncertainInput } from "../model/uncertain.ts";
import { concentration, day, formatMessage, type Message, number, sentence, span } from "../text/message.ts";
import type { AnswerId } from "./course.ts";
import type { AnswerRange, EarlyLikelyLate, ForecastSummary, InputShift } from "./summary.ts";

/** Name of each input in a sentence. */
export const INPUT_NAMES: Readonly<Record<InputId, string>> = {
  seed: "how many bacteria came along",
  "wetted share": "how much of the media is wetted",
  "water volume": "how much water there really is",
  food: "how much food is really given",
  dose: "how strong a dose really is",
  "plants and algae": "what plants and algae take up",
  alkalinity: "the alkalinity of the water",
  "room for bacteria": "how many bacteria fit on the media",
  "growth of ammonia oxidisers": "how fast ammonia oxidisers grow",
  "growth of slow ammonia oxidisers": "how fast slow ammonia oxidisers grow",
  "growth of nitrite oxidisers": "how fast nitrite oxidisers grow",
  "growth of slow nitrite oxidisers": "how fast slow nitrite oxidisers grow",
  "half-saturation of ammonia": "how well ammonia oxidisers work at low ammonia",
  "half-saturation of nitrite": "how well nitrite oxidisers work at low nitrite",
  "half-saturation of slow nitrite oxidisers": "how well slow nitrite oxidisers work at low nitrite",
  "inhibition by ammonia": "how much ammonia hinders nitrite oxidisers",
};

export interface AnswerSentence {
  readonly id: AnswerId;
  readonly title: string;
  /** Early, likely and late in words: after the readings and, if there are readings, before them. */
  readonly after: string;
  readonly before: string | null;
  readonly text: string;
  readonly why: string;
}

const TITLES: Readonly<Record<AnswerId, string>> = {
  "ready day": "Ready",
  handles: "Food it can handle a day",
  "ammonia peak": "Highest ammonia",
  "ammonia gone": "Ammonia gone for the first time",
  "nitrite seen": "Nitrite first shows",
  "nitrite peak day": "Nitrite highest",
  "nitrite peak": "Highest nitrite",
  "nitrite gone": "Nitrite gone for the first time",
  "highest free ammonia": "Highest un-ionised ammonia",
  "alkalinity gone": "Alkalinity used up",
};
/** Share of members without the event above which its day is omitted. */
const HARDLY_EVER = 0.95;

const percent = (share: number): string => `${Math.round(100 * share)} %`;

export class ForecastWords {
  private readonly messageFormatter: ScenarioFormatter;
  private readonly proteinShare: number;
  private readonly days: number;

  constructor(resolved: ResolvedScenario) {
    this.messageFormatter = new ScenarioFormatter(resolved);
    this.proteinShare = resolved.food?.proteinShare ?? USUAL_PROTEIN;
    this.days = resolved.management.days;
  }

  private say(message: Message | string): string {
    return formatMessage(message, this.messageFormatter);
  }

  /** Text of one value of an answer. */
  private value(id: AnswerId, value: number): Message | string {
    if (!Number.isFinite(value)) return `not within ${this.days} days`;
    switch (id) {
      case "handles":
        return sentence`${number(foodFor(value, this.proteinShare))} g`;
      case "ammonia peak":
        return sentence`${concentration("ammonia", value)}`;
      case "nitrite peak":
        return sentence`${concentration("nitrite", value)}`;
      case "highest free ammonia":
        return sentence`${number(value)} mg/L`;
      default:
        return sentence`${day(value)}`;
    }
  }

  /** "day 31, day 42, day 55". */
  private three(id: AnswerId, { early, likely, late }: EarlyLikelyLate): string {
    return [early, likely, late].map((value) => this.say(this.value(id, value))).join(" · ");
  }

  private sentenceOf({ id, after: { early, likely, late }, never }: AnswerRange): string {
    const said = (message: Message): string => this.say(message);
    if (id === "ready day" && early <= 1 && late <= 1) return "Ready from the start.";
    if (id === "handles")
      return said(
        sentence`It can handle between ${number(foodFor(early, this.proteinShare))} and ${number(foodFor(late, this.proteinShare))} g of food a day, likely ${number(foodFor(likely, this.proteinShare))} g (${Math.round(100 * this.proteinShare)} % protein).`,
      );
    if (id === "ammonia peak" || id === "nitrite peak") {
      const species = id === "ammonia peak" ? "ammonia" : "nitrite";
      return said(sentence`${TITLES[id]}: ${span(species, [early, late])}, likely ${concentration(species, likely)}.`);
    }
    if (id === "highest free ammonia")
      return said(sentence`${TITLES[id]}: between ${number(early)} and ${number(late)} mg/L, likely ${number(likely)}.`);
    const missing = never >= 0.005 ? ` In ${Math.max(1, Math.round(100 * never))} runs of 100 not within ${this.days} days.` : "";
    if (!Number.isFinite(likely)) return `${TITLES[id]}: more likely than not later than day ${this.days}.${missing}`;
    const until = Number.isFinite(late)
      ? sentence`between ${day(early)} and ${day(late)}`
      : sentence`probably not before ${day(early)}`;
    return said(sentence`${TITLES[id]} ${until}, likely on ${day(likely)}.${missing}`);
  }

  private whyOf({ why }: AnswerRange): string {
    if (why.length === 0) return "no single input stands out";
    const [first, ...others] = why.slice(0, 3);
    const left = 1 - why.reduce((sum, { share }) => sum + share, 0);
    const named = [
      `${INPUT_NAMES[first.input]} (${percent(first.share)})`,
      ...others.map(({ input, share }) => `${INPUT_NAMES[input]} (${percent(share)})`),
    ];
    return `mostly ${named.join(", ")}${left > 0.1 ? `; ${percent(left)} is how the inputs act together, and small ones` : ""}`;
  }

  answers(summary: ForecastSummary): readonly AnswerSentence[] {
    return summary.answers
      .filter(({ never, after }) => never < HARDLY_EVER && !(after.late === 0))
      .map((range) => ({
        id: range.id,
        title: TITLES[range.id],
        after: this.three(range.id, range.after),
        before: summary.readings > 0 ? this.three(range.id, range.before) : null,
        text: this.sentenceOf(range),
        why: this.whyOf(range),
      }));
  }

  /** Reliability of the forecast, in one or two sentences. */
  trust({ trust, effective, oddness, readings, members }: ForecastSummary): string {
    if (readings === 0)
      return `${members} runs with inputs drawn from what is known of them; eight of ten lie between early and late.`;
    const worth = `${Math.round(effective)} of ${members} runs agree with the readings`;
    const odd = oddness === null ? "" : `readings at least as odd come in ${percent(oddness)} of such tanks`;
    switch (trust) {
      case "misfit":
        return `The readings do not fit: ${odd}. Something is not as the scenario says, or the model does not hold here; the bands below are no forecast.`;
      case "thin":
        return `No claim: only ${worth}. The readings are far from what was expected; give more runs, or look at what they contradict.`;
      case "claimed":
        return `The readings fit: ${odd}; ${worth}.`;
    }
  }

  contradiction(input: UncertainInput, { mean }: InputShift): string {
    const way = mean > 0 ? "more" : "less";
    return `The readings ask for ${way} than was assumed of ${INPUT_NAMES[input.id]}.`;
  }
}
