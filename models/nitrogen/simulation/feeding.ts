// Who is there, and what they are fed: in meals, or evenly over the day.
import { ammoniaShare, endogenousTanGPerDay, NITROGEN_PER_PROTEIN } from "../../life/excretion.ts";
import type { AnimalGroup } from "../management.ts";
import { keptByGrowth } from "../tank/biofilm-stock.ts";
import { depositOrganics } from "../tank/operations.ts";
import { giveInert } from "./pads-and-sediment.ts";
import type { RunState } from "./run-state.ts";

/** Protein of food thrown in beside the plan (modelling assumption: a usual flake). */
const EXTRA_FOOD_PROTEIN = 0.42;

export class Feeding {
  private readonly runState: RunState;
  private readonly evenly: boolean;
  private readonly present: AnimalGroup[] = [];
  /** Growth of each group since it came, and how much more or less than planned it gets. */
  private readonly growth = new Map<string, number>();
  private readonly factor = new Map<string, number>();
  private extraGPerDay = 0;

  /** @param evenly spread each day's food over the day instead of in meals */
  constructor(runState: RunState, evenly: boolean) {
    this.runState = runState;
    this.evenly = evenly;
  }

  /** Food given now, eaten or not [g as fed per day]. */
  get foodGPerDay(): number {
    return this.present.reduce((sum, group) => sum + this.foodOf(group), 0) + this.extraGPerDay;
  }

  /** From now on a group (null: all) gets `factor` times its plan, and so much food is thrown in that nobody eats. */
  changePlan(group: string | null, factor: number, extraGPerDay: number): void {
    for (const { id } of this.runState.aquarium.management.groups)
      if (group === null || group === id) this.factor.set(id, factor);
    this.extraGPerDay = extraGPerDay;
  }

  /** Hours since anybody last ate, by the hours of the plan; infinity when nobody is fed or has eaten yet. */
  hoursSinceMeal(day: number): number {
    const today = Math.floor(day);
    let since = Number.POSITIVE_INFINITY;
    for (const group of this.present) {
      if (this.foodOf(group) === 0) continue;
      for (const on of [today - 1, today])
        for (const hour of group.feedingHours) {
          const meal = on + hour / 24;
          if (meal >= group.arrivesDay && meal <= day && !this.isOut(meal)) since = Math.min(since, 24 * (day - meal));
        }
    }
    return since;
  }

  /** Puts down arrivals, departures, days and meals. */
  schedule(): void {
    const { runState } = this;
    const { groups, days } = runState.aquarium.management;
    for (const group of groups) {
      runState.moments.at(group.arrivesDay, () => this.arrive(group));
      const leaves = group.leavesDay;
      if (leaves !== null) runState.moments.at(leaves, () => this.leave(group, leaves));
    }
    for (let day = 0; day < days; day++) {
      runState.moments.at(day, () => this.beginDay(day));
      if (this.isEven(day)) continue;
      for (const group of groups)
        for (const hour of group.feedingHours)
          if (!this.isOut(day + hour / 24)) runState.moments.at(day + hour / 24, () => this.meal(group));
    }
  }

  /** Whether a day's food comes evenly: not on the days of a cut, when it matters how long ago the last meal was. */
  private isEven(day: number): boolean {
    return (
      this.evenly &&
      !this.runState.aquarium.management.events.some(
        (event) => event.kind === "power cut" && event.day < day + 1 && event.day + event.hours / 24 > day,
      )
    );
  }

  /** Whether a moment lies in a cut during which nobody feeds. */
  private isOut(day: number): boolean {
    return this.runState.aquarium.management.events.some(
      (event) => event.kind === "power cut" && !event.fedMeanwhile && day > event.day && day < event.day + event.hours / 24,
    );
  }

  /** Share of a day's meals that are given. */
  private servedShare(group: AnimalGroup, day: number): number {
    const { feedingHours } = group;
    return feedingHours.filter((hour) => !this.isOut(day + hour / 24)).length / feedingHours.length;
  }

  private massShare(group: AnimalGroup): number {
    return this.growth.get(group.id) ?? 1;
  }

  private foodOf(group: AnimalGroup): number {
    return group.foodGPerDay * this.massShare(group) * (this.factor.get(group.id) ?? 1);
  }

  private arrive(group: AnimalGroup): void {
    this.present.push(group);
    this.tellAnimals();
    if (group.arrivesDay > 0) this.runState.mark(group.arrivesDay, "stock", `${group.count} ${group.name} arrive`);
  }

  private leave(group: AnimalGroup, day: number): void {
    this.present.splice(this.present.indexOf(group), 1);
    this.tellAnimals();
    this.runState.mark(day, "stock", `${group.name} leave`);
  }

  private tellAnimals(): void {
    const { runState, present } = this;
    runState.change(() => {
      runState.operating.groups = present.map((group) => ({ ...group, massG: group.massG * this.massShare(group) }));
      runState.aquarium.system.conditions.guts[0].tanShare = this.ammoniaShareNow();
    });
  }

  /** Of the nitrogen eaten, what becomes ammonia while these animals grow as planned on what they get. */
  private ammoniaShareNow(): number {
    const grown = this.present.map((group) => ({ ...group, massG: group.massG * this.massShare(group) }));
    return ammoniaShare(keptByGrowth(grown, (group) => this.foodOf(group)));
  }

  private beginDay(day: number): void {
    const growing = this.present.filter((group) => group.growthPerDay !== 0);
    for (const group of growing) this.growth.set(group.id, this.massShare(group) * (1 + group.growthPerDay));
    const { tanShare } = this.runState.aquarium.system.conditions.guts[0];
    if (growing.length > 0 || tanShare !== this.ammoniaShareNow()) this.tellAnimals();
    this.fast(day);
    if (this.evenly) this.feedEvenly(day);
    if (this.extraGPerDay > 0) {
      this.layFood(this.extraGPerDay * EXTRA_FOOD_PROTEIN * NITROGEN_PER_PROTEIN);
      giveInert(this.runState, 0, this.extraGPerDay);
    }
  }

  private layFood(gN: number): void {
    const { runState } = this;
    const { system, displayCells } = runState.aquarium;
    runState.book("food", () => depositOrganics(system, runState.y, displayCells, gN));
  }

  private meal(group: AnimalGroup): void {
    if (!this.present.includes(group)) return;
    const { runState } = this;
    const { system, displayCells } = runState.aquarium;
    const meal = this.foodOf(group) / group.feedingHours.length;
    const nitrogen = meal * group.proteinShare * NITROGEN_PER_PROTEIN;
    runState.book("food", () => {
      runState.y[system.gutIndex(0, 0)] += nitrogen * (1 - group.uneatenShare);
      depositOrganics(system, runState.y, displayCells, nitrogen * group.uneatenShare);
    });
    giveInert(runState, meal * (1 - group.uneatenShare), meal * group.uneatenShare);
  }

  private feedEvenly(day: number): void {
    const { runState } = this;
    const gut = runState.aquarium.system.conditions.guts[0];
    let [eaten, uneaten] = [0, 0];
    let [eatenG, uneatenG] = [0, 0];
    // On a day of meals the even feeding of the day before ends.
    for (const group of this.isEven(day) ? this.present : []) {
      const food = this.foodOf(group);
      const nitrogen = food * group.proteinShare * NITROGEN_PER_PROTEIN;
      eatenG += food * (1 - group.uneatenShare);
      uneatenG += food * group.uneatenShare;
      eaten += nitrogen * (1 - group.uneatenShare);
      uneaten += nitrogen * group.uneatenShare;
    }
    if (eaten !== gut.eatenGNPerDay || uneaten !== gut.uneatenGNPerDay)
      runState.change(() => Object.assign(gut, { eatenGNPerDay: eaten, uneatenGNPerDay: uneaten }));
    this.bookOverDay("food", day, eaten + uneaten);
    this.atEndOfDay(day, (days) => giveInert(runState, eatenG * days, uneatenG * days));
  }

  /** Animals that get no food live on themselves: their nitrogen is booked as it is given off over the day. */
  private fast(day: number): void {
    const { runState } = this;
    const { system, displayCells } = runState.aquarium;
    const { temperatureC } = system.conditions.cells[displayCells[0]];
    const hungry = this.present.filter((group) => this.foodOf(group) * this.servedShare(group, day) === 0);
    const rate = hungry.reduce((sum, group) => sum + group.count * endogenousTanGPerDay(group.massG, temperatureC), 0);
    if (rate !== runState.operating.fastingGNPerDay)
      runState.change(() => {
        runState.operating.fastingGNPerDay = rate;
      });
    this.bookOverDay("animals' own tissue", day, rate);
  }

  /** Books at the end of a day what has come in steadily through it. */
  private bookOverDay(label: string, day: number, gNPerDay: number): void {
    if (gNPerDay > 0) this.atEndOfDay(day, (days) => this.runState.ledger.add(label, gNPerDay * days));
  }

  /** @param act is told how much of the day there was: less than one when the run ends within it */
  private atEndOfDay(day: number, act: (days: number) => void): void {
    const { moments, aquarium } = this.runState;
    const until = Math.min(day + 1, aquarium.management.days);
    moments.at(until, () => act(until - day));
  }
}
