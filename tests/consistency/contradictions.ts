// What cannot stand beside each other in one result: each quantity that is told more than once is compared, and each sentence is read.
import type { Finding, RunResult } from "../../scenarios/result/result.ts";
import { dayOf } from "../../scenarios/text/format.ts";
import { type Message, type Quantity, quantified } from "../../scenarios/text/message.ts";
import { steps } from "../../viz/sheets/commissioning.ts";
import { readerOf } from "../../viz/view/reader.ts";
import { sentencesOf } from "../sentences.ts";

/** Values in a result carry five or six figures. */
const ROUNDED = 2e-4;
/** Stories are drawn in finer steps than the fault table: 0.05 mm, and as many cubic metres. */
const DRAWN = 5e-5;
const isSame = (a: number, b: number): boolean =>
  Math.abs(a - b) <= Math.max(ROUNDED * Math.max(Math.abs(a), Math.abs(b)), DRAWN);

/** One quantity, told in several places. */
class Facts {
  private readonly told = new Map<string, { readonly value: number; readonly where: string }>();
  readonly contradictions: string[] = [];

  say(name: string, value: number | null | undefined, where: string): void {
    if (value === null || value === undefined) return;
    const before = this.told.get(name);
    if (!before) this.told.set(name, { value, where });
    else if (!isSame(before.value, value) && before.value !== value)
      this.contradictions.push(`${name} is ${before.value} in ${before.where}, but ${value} in ${where}`);
  }
}

const quantities = (said: Message | undefined): readonly Quantity[] => (said ?? []).filter((part) => typeof part !== "string");
const lengthsIn = (said: Message | undefined): readonly Quantity[] => quantities(said).filter(({ is }) => is === "length");
const firstOf = (said: Message | undefined, is: Quantity["is"]): number | undefined =>
  quantities(said).find((quantity) => quantity.is === is)?.value;

/** Everything that contradicts itself in a result, in words; nothing when all is well. */
export function* contradictions(result: RunResult): Generator<string> {
  const facts = new Facts();
  const finding = (id: string): Finding | undefined => result.findings.find((f) => f.id === id);
  readyDay(result, finding("ready"), facts);
  hydraulics(result, finding, facts);
  clocks(result, facts);
  yield* facts.contradictions;
  yield* highest(result, finding);
  yield* ranges(result);
  yield* faultTable(result, finding);
  yield* marksAndCalendar(result);
  yield* answer(result);
  yield* sheets(result);
  yield* afterDeath(result);
  yield* words(result);
}

function readyDay({ calendar, answer: { sentences } }: RunResult, ready: Finding | undefined, facts: Facts): void {
  if (ready?.unit !== "day") return;
  const say = (value: number | undefined, where: string) =>
    facts.say("the day it is ready", value === undefined ? undefined : dayOf(value), where);
  say(ready.value ?? undefined, "the finding's value");
  say(firstOf(ready.said, "day"), "the finding's sentence");
  if (ready.brief && sentences.includes(ready.brief)) say(firstOf(ready.brief.said, "day"), "the answer");
  say(calendar.find(({ title }) => title === "Likely ready")?.day, "the calendar");
}

function hydraulics({ hydraulics: h, rig }: RunResult, finding: (id: string) => Finding | undefined, facts: Facts): void {
  const say = (
    name: string,
    told: { readonly verdict: string; readonly floorM3: number; readonly marginM: number },
    where: string,
  ) => {
    facts.say(`${name}: water on the floor`, told.floorM3, where);
    if (told.verdict !== "FLOODS" && Number.isFinite(told.marginM)) facts.say(`${name}: margin`, told.marginM, where);
  };
  /** @param before lengths in the sentence that belong to the name of the fault */
  const heard = (name: string, f: Finding | undefined, before = 0) => {
    if (!f || f.value === null || !Number.isFinite(f.value)) return;
    facts.say(`${name}: ${f.word === "FLOODS" ? "water on the floor" : "margin"}`, f.value, `the finding ${f.id}`);
    const quantity = f.word === "FLOODS" ? firstOf(f.said, "volume") : lengthsIn(f.said)[before]?.value;
    facts.say(`${name}: ${f.word === "FLOODS" ? "water on the floor" : "margin"}`, quantity, `the sentence of ${f.id}`);
  };
  for (const story of h.stories) {
    const [first, second] = story.faults;
    const alone = first ?? (story.id === "plain" ? "the plain cut" : `the story ${story.id}`);
    say(second === undefined ? alone : `${second} and ${first}`, story, `the story ${story.id}`);
  }
  for (const cell of h.matrix) {
    const name = cell.a === "" ? "the plain cut" : cell.a === cell.b ? cell.a : `${cell.b} and ${cell.a}`;
    say(name, cell, "the fault table");
  }
  heard("the plain cut", finding("power-cut"));
  for (const [id, ordinary] of [
    ["everyday-faults", 3],
    ["possible-faults", 2],
    ["rare-faults", 1],
  ] as const) {
    const singles = h.matrix.filter(
      ({ a, b }) => a === b && h.faults.some((fault) => fault.id === a && fault.ordinary === ordinary),
    );
    const worst = [...singles].sort((a, b) => b.floorM3 - a.floorM3 || a.marginM - b.marginM)[0];
    if (worst) heard(worst.a, finding(id), lengthsIn(quantified(h.faults.find((fault) => fault.id === worst.a)!.name)).length);
  }
  facts.say("the running level", h.marks.runningM, "the marks");
  facts.say("the running level", rig.sump.runningLevelM, "the rig");
  const mark = finding("fill-mark");
  if (mark?.word === "FILL MARK" || mark?.word === "TOO FULL") {
    const [low, high, now] = quantities(mark.said).map(({ value }) => value);
    facts.say("the lowest mark", low, "the sentence");
    facts.say("the lowest mark", h.marks.minRunningM, "the marks");
    facts.say("the highest mark", high, "the sentence");
    facts.say("the highest mark", h.marks.maxRunningUntrustedM ?? h.marks.maxRunningTrustedM, "the marks");
    facts.say("the running level", now, "the sentence of the marks");
  }
}

function clocks({ findings, outage, inputs }: RunResult, facts: Facts): void {
  for (const { id, amberH, redH } of outage) facts.say(`clock ${id}`, (amberH ?? redH)?.[0], "the table");
  for (const f of findings.filter(({ id }) => id.startsWith("clock-"))) {
    facts.say(`clock ${f.id.slice("clock-".length)}`, f.value, "the finding");
    facts.say("the length of the cut that is tried", quantities(f.said).findLast(({ is }) => is === "hours")?.value, f.id);
  }
  facts.say("the length of the cut that is tried", inputs.cutHours, "the inputs");
}

/** Share of the highest that counts as as high. */
const AS_HIGH = 0.95;
/** Days of the chart carry six digits. */
const SAME_DAY = 0.01;

/** "Highest" is the highest of the chart, on the day the chart has it. */
function* highest({ nitrogen }: RunResult, finding: (id: string) => Finding | undefined): Generator<string> {
  for (const [id, series, species] of [
    ["ammonia-peak", "tan", "ammonia"],
    ["nitrite-peak", "no2", "nitrite"],
  ] as const) {
    const f = finding(id);
    const values = nitrogen.series.find((s) => s.id === series)?.values;
    if (!f || !values) continue;
    const most = Math.max(...values.map((value) => value ?? 0));
    const value = firstOf(f.said, species);
    const day = firstOf(f.said, "day") ?? -1;
    const asHigh = (share: number) => nitrogen.timeDays.filter((_, n) => (values[n] ?? 0) >= share * most);
    // Equal doses bring ammonia to one level again and again: its sentence names the first day on which it is as high, to
    // a twentieth. Of nitrite it names a day on which it is highest, to the digits of the chart.
    const days =
      species === "ammonia"
        ? [AS_HIGH * (1 - ROUNDED), AS_HIGH, AS_HIGH * (1 + ROUNDED)].map((share) => asHigh(share)[0])
        : asHigh(1 - ROUNDED);
    if (value === undefined || !isSame(value, most)) yield `${id}: told ${value}, the chart has ${most}`;
    if (!days.some((on) => Math.abs(day - on) < SAME_DAY)) yield `${id}: told day ${day}, the chart has ${days}`;
    const harm = finding(species === "nitrite" ? "nitrite-harm" : "none");
    const told = quantities(harm?.said).findLast(({ is }) => is === species)?.value;
    if (told !== undefined && told > most * (1 + ROUNDED)) yield `${harm?.id}: told ${told}, more than the highest, ${most}`;
  }
}

/** A likely value lies in its own range, and early comes before late. */
function* ranges({ findings, nitrogen }: RunResult): Generator<string> {
  for (const { id, said } of findings) {
    let before: Quantity | null = null;
    const days = quantities(said).filter(({ is }) => is === "day");
    for (const quantity of quantities(said)) {
      if (quantity.is === "span") {
        if (quantity.value > quantity.to) yield `${id}: a range runs backwards, ${quantity.value} to ${quantity.to}`;
        const likely: Quantity | undefined = before?.is === quantity.of ? before : undefined;
        if (likely && (likely.value < quantity.value * (1 - ROUNDED) || likely.value > quantity.to * (1 + ROUNDED)))
          yield `${id}: ${likely.value} lies outside its range ${quantity.value} to ${quantity.to}`;
      } else if (quantity.is === "hour span" && quantity.to !== null && quantity.value > quantity.to)
        yield `${id}: hours run backwards, ${quantity.value} to ${quantity.to}`;
      if (quantity.is !== "day") before = quantity;
    }
    if (id === "ready" && said && /between/.test(JSON.stringify(said)) && days.length >= 3) {
      const [likely, early, late] = days.map(({ value }) => value);
      if (likely < early || likely > late) yield `ready: day ${likely} lies outside ${early} to ${late}`;
    }
  }
  for (const { series, low, middle, high } of nitrogen.bands)
    if (low.some((value, n) => value > middle[n] * (1 + ROUNDED) + 1e-9 || middle[n] > high[n] * (1 + ROUNDED) + 1e-9))
      yield `the band of ${series} is not in order`;
}

const URGENCY = ["info", "watch", "alarm"] as const;

function* faultTable({ hydraulics: h, findings }: RunResult, finding: (id: string) => Finding | undefined): Generator<string> {
  const alone = (id: string) => h.matrix.find(({ a, b }) => a === id && b === id);
  for (const cell of h.matrix) {
    if ((cell.verdict === "FLOODS") !== cell.floorM3 > 0)
      yield `${cell.a}/${cell.b}: ${cell.verdict} with ${cell.floorM3} m3 on the floor`;
    if (cell.a === cell.b) continue;
    for (const half of [alone(cell.a), alone(cell.b)])
      if (half && URGENCY.indexOf(half.level) > URGENCY.indexOf(cell.level))
        yield `the pair ${cell.a} and ${cell.b} is milder (${cell.level}) than ${half.a} alone (${half.level})`;
  }
  const { marks } = h;
  const blocked = alone("drain blocked");
  if (marks.fuses.length === 1 && blocked) {
    const [fuse] = marks.fuses;
    if (fuse.outcome === "spills" && blocked.verdict !== "FLOODS")
      yield "the blocked drain spills beside the fault table, which holds";
    if (fuse.outcome === "spills" && fuse.floorM3 > blocked.floorM3 * (1 + ROUNDED) + 1e-6)
      yield `the blocked drain puts ${fuse.floorM3} m3 on the floor, the fault table only ${blocked.floorM3}`;
  }
  for (const fuse of marks.fuses)
    if ((fuse.outcome === "spills") !== fuse.floorM3 > 0)
      yield `the fuse of ${fuse.display} ${fuse.outcome} with ${fuse.floorM3} m3`;
  if (marks.minRunningM === null && (marks.maxRunningTrustedM !== null || marks.maxRunningUntrustedM !== null))
    yield "marks are given where nothing settles";
  const mark = finding("fill-mark");
  if (marks.minRunningM === null && mark && quantities(mark.said).length > 0) yield "a mark is told where nothing settles";
  if (h.fit.some(({ ok }) => !ok) !== (finding("fit") !== undefined))
    yield "what does not fit is not a finding, or the other way round";
  for (const { id, level, remedy, advice } of findings)
    if (level === "alarm" && !remedy && !advice) yield `the alarm ${id} names no remedy`;
}

function* marksAndCalendar({ nitrogen, calendar, findings }: RunResult): Generator<string> {
  const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
  for (const { title, day } of calendar) {
    if (!Number.isInteger(day) || day < 0) yield `the calendar has day ${day}`;
    const marks = nitrogen.marks.filter(({ label }) => capital(label) === title);
    if (marks.length > 0 && !marks.some((mark) => dayOf(mark.day) === day))
      yield `${title} is on day ${day} in the calendar, not on the chart`;
  }
  const keys = calendar.map(({ day, title }) => `${day} ${title}`);
  if (new Set(keys).size < keys.length) yield "the calendar says one thing twice";
  if (calendar.some(({ day }, n) => n > 0 && day < calendar[n - 1].day)) yield "the calendar is not in order";
  const ids = findings.map(({ id }) => id);
  for (const id of new Set(ids.filter((one, n) => ids.indexOf(one) !== n))) yield `two findings are called ${id}`;
  const last = nitrogen.timeDays[nitrogen.timeDays.length - 1];
  for (const { id, said } of findings)
    for (const quantity of quantities(said))
      if (quantity.is === "day" && (quantity.value < 0 || quantity.value > last + 1.01))
        yield `${id} tells of day ${quantity.value} of ${last}`;
}

function* answer({ answer: { question, sentences, lead, groups }, findings }: RunResult): Generator<string> {
  if (!question.trim()) yield "there is no question";
  if (findings.some(({ brief }) => brief) && (sentences.length < 1 || sentences.length > 2))
    yield `${sentences.length} sentences answer the question`;
  for (const { text } of sentences) if (lead.some((line) => line.text === text)) yield `the answer repeats a lead line: ${text}`;
  const grouped = [...groups.doNow, ...groups.watch, ...groups.know];
  if (
    [...grouped].sort().join() !==
    findings
      .map(({ id }) => id)
      .sort()
      .join()
  )
    yield "the groups are not the findings";
}

/** No sheet and no advice orders a test that is predicted to flood. */
function* sheets(result: RunResult): Generator<string> {
  const { matrix, stories, marks } = result.hydraulics;
  const floods = (id: string): boolean => matrix.some(({ a, b, verdict }) => a === id && b === id && verdict === "FLOODS");
  const plainFloods = stories[0]?.verdict === "FLOODS";
  for (const { do: order } of steps(result, readerOf(result))) {
    if (/^Do not/.test(order)) continue;
    if (/pull the plug/i.test(order) && plainFloods) yield `the sheet orders a plug test that floods: ${order}`;
    if (/hole taped shut/.test(order) && floods("break hole blocked")) yield `the sheet orders a test that floods: ${order}`;
    if (/check valve held open/.test(order) && floods("check valve leaks")) yield `the sheet orders a test that floods: ${order}`;
    if (/top-off float/.test(order) && floods("reservoir dumped")) yield `the sheet orders a test that floods: ${order}`;
    if (/^Block/.test(order) && marks.fuses.some(({ outcome }) => outcome === "spills"))
      yield `the sheet orders a test that floods: ${order}`;
  }
  for (const { id, advice = "" } of result.findings)
    if (/^Pull the plug yourself/.test(advice) && plainFloods) yield `${id} advises a plug test that floods`;
}

/** After a cut that kills, nothing is told as if the animals lived. */
function* afterDeath({ findings, calendar }: RunResult): Generator<string> {
  const deadly = findings.find(({ id, text }) => id.startsWith("cut-") && /would not survive|all of the animals die/i.test(text));
  if (!deadly) return;
  const day = firstOf(deadly.said, "day") ?? 0;
  for (const { id, said, text } of findings) {
    if (id === deadly.id || id.startsWith("cut-")) continue;
    if (/\byou feed\b|animals get|they get/i.test(text) && id === "capacity")
      yield `${id} speaks of food after the animals died: ${text}`;
    if (
      ["nitrite-harm", "ammonia-harm", "oxygen"].includes(id) &&
      (quantities(said).findLast(({ is }) => is === "day")?.value ?? 0) > day + 0.01
    )
      yield `${id} speaks of animals after day ${day}: ${text}`;
  }
  for (const { day: on, title } of calendar)
    if (on > day && /animals/i.test(title)) yield `the calendar has animals after they died: ${title}`;
}

/** What no sentence may say. */
const BANNED: readonly (readonly [RegExp, string])[] = [
  [/NaN|undefined|Infinity|\[object|\bnull\b/, "a value that is none"],
  [/\bsafe(ly)?\b/i, "the word safe"],
  [/\bfor 0 s\b|\b0 (s|min|h|days)\b/, "a time of nothing"],
  [/(?<![\d.,/])1 (unions|tees|bends|days|hours|minutes|times|faults|lots)\b/, "one of several"],
  [/\d[eE][+-]?\d/, "a power of ten"],
  [/\.\d{3,} mg\/L as (NH|NO|TAN)/, "a reading that no kit shows"],
  [/ {2}|\.\.|,\.| ,| \.(?!\d)/, "a slip in its marks"],
  [/\b(reckoned|hence|amber|is wanted|2 times running)\b/i, "a word that reads translated"],
  [/\b([a-z]{3,}) \1\b/i, "a word twice"],
  [/stays below .* (10[1-9]|1[1-9]\d|[2-9]\d\d) % of it/, "more than the whole of what it stays below"],
  [/\b(the|The) (a|an|the) \b|at most less than/, "two beginnings"],
];
const US_UNITS = /\d\/\d+ in\b|\d ft\b|\d ft²|US gal|\d lb\b|\d oz\b|°F|US gph/;
const METRIC_UNITS = /\d mm\b|\d cm\b|\d m\b(?!\/)|\d m²|\d L\b(?!\/)|\d kg\b|°C|\d L\/h/;
/** Printed in both systems, or as somebody wrote it. */
const BOTH_SYSTEMS =
  /^(sheet| {3}predicted|one line|card|assumed|rule|question|warning|mark|calendar|story| {3}at|remedy: (HOLDS|TIGHT|FLOODS))/;
/** Words of others: names in a file may hold anything. */
const theirs = (result: RunResult): string => result.source;

function* words(result: RunResult): Generator<string> {
  const written = theirs(result);
  for (const [what, text] of sentencesOf(result)) {
    if (what === "question" || what.startsWith("assumed")) continue;
    for (const [banned, why] of BANNED) {
      const found = banned.exec(text);
      if (found && !written.includes(found[0])) yield `${what} has ${why}, "${found[0]}": ${text}`;
    }
    if (BOTH_SYSTEMS.test(what)) continue;
    const other = (result.units === "metric" ? US_UNITS : METRIC_UNITS).exec(text);
    if (other) yield `${what} has a unit of the other system, "${other[0]}": ${text}`;
  }
}
