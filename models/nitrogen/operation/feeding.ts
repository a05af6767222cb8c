// The animals present and their food, in meals or evenly over the day.
import { HOURS_PER_DAY } from "../../../sim/time.ts";
import { USE_OVER_FISH } from "../../life/animals.ts";
import { endogenousTanGPerDay, NITROGEN_PER_PROTEIN } from "../../life/excretion.ts";
import type { AnimalGroup } from "../management.ts";
import { depositOrganics } from "../tank/operations.ts";
import type { PlannedCut } from "./outage-record.ts";
import { addInertSolids } from "./pads-and-sediment.ts";
import type { RunState } from "./run-state.ts";

/** Protein share of additional food (modelling assumption: a usual flake food). */
const EXTRA_FOOD_PROTEIN = 0.42;

export class Feeding {
  private readonly runState: RunState;
  private readonly evenly: boolean;
  private readonly present: AnimalGroup[] = [];
  /** Growth factor of each group since its arrival, and the factor on its planned food. */
  private readonly growth = new Map<string, number>();
  private readonly factor = new Map<string, number>();
  private extraGPerDay = 0;
  private readonly cuts: readonly PlannedCut[];

  /**
   * @param cuts planned power cuts, during which animals are fed only if the cut says so
   * @param evenly distribute each day's food over the day instead of in meals
   */
  constructor(runState: RunState, cuts: readonly PlannedCut[], evenly: boolean) {
    this.cuts = cuts;
    this.runState = runState;
    this.evenly = evenly;
  }

  /** Present food, eaten or not [g as fed per day]. */
  get foodGPerDay(): number {
    return this.present.reduce((sum, group) => sum + this.foodOf(group), 0) + this.extraGPerDay;
  }

  /** From now on, a group (null: all) gets `factor` times its plan, plus an amount of food that nobody eats. */
  changePlan(group: string | null, factor: number, extraGPerDay: number): void {
    for (const { id } of this.runState.aquarium.management.groups)
      if (group === null || group === id) this.factor.set(id, factor);
    this.extraGPerDay = extraGPerDay;
  }

  /** Hours since the last planned meal; infinity when nobody is fed or has eaten yet. */
  hoursSinceMeal(day: number): number {
    const today = Math.floor(day);
    let since = Number.POSITIVE_INFINITY;
    for (const group of this.present) {
      if (this.foodOf(group) === 0) continue;
      for (const on of [today - 1, today])
        for (const hour of group.feedingHours) {
          const meal = on + hour / HOURS_PER_DAY;
          if (meal >= group.arrivesDay && meal <= day && !this.isOut(meal)) since = Math.min(since, HOURS_PER_DAY * (day - meal));
        }
    }
    return since;
  }

  /** Schedules arrivals, departures, day ends and meals. */
  schedule(): void {
    const { runState } = this;
    const { groups, days } = runState.aquarium.management;
    for (const group of groups) {
      runState.eventQueue.at(group.arrivesDay, () => this.arrive(group));
      const leaves = group.leavesDay;
      if (leaves !== null) runState.eventQueue.at(leaves, () => this.leave(group, leaves));
    }
    for (let day = 0; day < days; day++) {
      runState.eventQueue.at(day, () => this.beginDay(day));
      if (this.isEven(day)) continue;
      for (const group of groups)
        for (const hour of group.feedingHours)
          if (!this.isOut(day + hour / HOURS_PER_DAY)) runState.eventQueue.at(day + hour / HOURS_PER_DAY, () => this.meal(group));
    }
  }

  /** Whether a day's food comes evenly: not on the days of an outage, when the time since the last meal matters. */
  private isEven(day: number): boolean {
    return this.evenly && !this.cuts.some((cut) => cut.day < day + 1 && cut.day + cut.hours / HOURS_PER_DAY > day);
  }

  /** Whether a time lies in an outage without feeding. */
  private isOut(day: number): boolean {
    return this.cuts.some((cut) => !cut.fedMeanwhile && day > cut.day && day < cut.day + cut.hours / HOURS_PER_DAY);
  }

  /** Share of a day's meals that are actually given. */
  private servedShare(group: AnimalGroup, day: number): number {
    const { feedingHours } = group;
    return feedingHours.filter((hour) => !this.isOut(day + hour / HOURS_PER_DAY)).length / feedingHours.length;
  }

  private massShare(group: AnimalGroup): number {
    return this.growth.get(group.id) ?? 1;
  }

  private foodOf(group: AnimalGroup): number {
    return group.foodGPerDay * this.massShare(group) * (this.factor.get(group.id) ?? 1);
  }

  private arrive(group: AnimalGroup): void {
    this.present.push(group);
    this.setGroups();
    if (group.arrivesDay > 0) this.runState.mark(group.arrivesDay, "stock", `${group.count} ${group.name} arrive`);
  }

  private leave(group: AnimalGroup, day: number): void {
    this.present.splice(this.present.indexOf(group), 1);
    this.setGroups();
    this.runState.mark(day, "stock", `${group.name} leave`);
  }

  private setGroups(): void {
    const groups = this.present.map((group) => ({
      ...group,
      massG: group.massG * this.massShare(group),
      foodGPerDay: this.foodOf(group),
    }));
    this.runState.operate({ groups });
  }

  private beginDay(day: number): void {
    const growing = this.present.filter((group) => (group.growthPerDay ?? 0) !== 0);
    for (const group of growing) this.growth.set(group.id, this.massShare(group) * (1 + (group.growthPerDay ?? 0)));
    if (growing.length > 0) this.setGroups();
    this.fast(day);
    if (this.evenly) this.feedEvenly(day);
    if (this.extraGPerDay > 0) {
      this.layFood(this.extraGPerDay * EXTRA_FOOD_PROTEIN * NITROGEN_PER_PROTEIN);
      addInertSolids(this.runState, 0, this.extraGPerDay);
    }
  }

  private layFood(gN: number): void {
    const { runState } = this;
    const { displayCells } = runState.aquarium;
    runState.book("food", (y) => depositOrganics(runState.system, y, displayCells, gN));
  }

  private meal(group: AnimalGroup): void {
    if (!this.present.includes(group)) return;
    const { runState } = this;
    const { layout, displayCells } = runState.aquarium;
    const meal = this.foodOf(group) / group.feedingHours.length;
    const nitrogen = meal * group.proteinShare * NITROGEN_PER_PROTEIN;
    runState.book("food", (y) => {
      y[layout.gutIndex(0, 0)] += nitrogen * (1 - group.uneatenShare);
      depositOrganics(runState.system, y, displayCells, nitrogen * group.uneatenShare);
    });
    addInertSolids(runState, meal * (1 - group.uneatenShare), meal * group.uneatenShare);
  }

  private feedEvenly(day: number): void {
    const { runState } = this;
    const { eatenGNPerDay, uneatenGNPerDay } = runState.operating.evenFeeding;
    let [eaten, uneaten] = [0, 0];
    let [eatenG, uneatenG] = [0, 0];
    // A day with meals ends the even feeding of the day before.
    for (const group of this.isEven(day) ? this.present : []) {
      const food = this.foodOf(group);
      const nitrogen = food * group.proteinShare * NITROGEN_PER_PROTEIN;
      eatenG += food * (1 - group.uneatenShare);
      uneatenG += food * group.uneatenShare;
      eaten += nitrogen * (1 - group.uneatenShare);
      uneaten += nitrogen * group.uneatenShare;
    }
    if (eaten !== eatenGNPerDay || uneaten !== uneatenGNPerDay)
      runState.operate({ evenFeeding: { eatenGNPerDay: eaten, uneatenGNPerDay: uneaten } });
    this.bookOverDay("food", day, eaten + uneaten);
    this.atEndOfDay(day, (days) => addInertSolids(runState, eatenG * days, uneatenG * days));
  }

  /** Unfed animals use their own tissue: the nitrogen is booked as they excrete it over the day. */
  private fast(day: number): void {
    const { runState } = this;
    const temperatureC = runState.operating.temperatureC[runState.aquarium.displayCells[0]];
    const hungry = this.present.filter((group) => this.foodOf(group) * this.servedShare(group, day) === 0);
    const rate = hungry.reduce(
      (sum, group) => sum + group.count * USE_OVER_FISH[group.kind] * endogenousTanGPerDay(group.massG, temperatureC),
      0,
    );
    if (rate !== runState.operating.fastingGNPerDay) runState.operate({ fastingGNPerDay: rate });
    this.bookOverDay("animals' own tissue", day, rate);
  }

  /** Books steady inputs at the end of their day. */
  private bookOverDay(label: string, day: number, gNPerDay: number): void {
    if (gNPerDay > 0) this.atEndOfDay(day, (days) => this.runState.ledger.add(label, gNPerDay * days));
  }

  /** @param act receives the length of the day: less than one when the run ends within it */
  private atEndOfDay(day: number, act: (days: number) => void): void {
    const { eventQueue: moments, aquarium } = this.runState;
    const until = Math.min(day + 1, aquarium.management.days);
    moments.at(until, () => act(until - day));
  }
}
