// Days in the life of an aquarium: integrate between the moments when somebody does something, and book what is done.
import type { Outcome } from "../../sim/outcome.ts";
import type { RunStatistics } from "../../sim/problem.ts";
import { StiffSolver } from "../../sim/stiff.ts";
import {
  CARCASS_NITROGEN_SHARE,
  carcassDecayPerDay,
  endogenousTanGPerDay,
  gutStageRatePerDay,
  NITROGEN_PER_PROTEIN,
  TAN_PER_PROTEIN,
} from "../life/excretion.ts";
import { batteryAirPerDay, pouringShare } from "../outage/airSupply.ts";
import { displayPlanM2 } from "../rig.ts";
import { booked, changeWater, dose, fill, kill, layDown, moveWater, rinse, setFilmArea } from "./actions.ts";
import { type Aquarium, applyUpkeep, startingUpkeep, type Upkeep, wettedAreas } from "./aquarium.ts";
import { type Inventory, inventory, Ledger } from "./inventory.ts";
import type { AnimalGroup, PlanEvent } from "./plan.ts";

/** Share of the food's nitrogen that leaves as faeces: 0.25 g solids per g food (Timmons & Ebeling) at 5 % N, of 42 % protein food (derived). */
export const FAECES_SHARE = 0.19;
const G_N_PER_EQ = 14.007;

/** What the hydraulic model says of one stop and restart: shares of each cell's water that end in each (last row: floor), and volumes. */
export interface StopAndStart {
  readonly stopShare: readonly (readonly number[])[];
  readonly restVolumesM3: readonly number[];
  readonly startShare: readonly (readonly number[])[];
  readonly runningVolumesM3: readonly number[];
}

export interface RunOptions {
  readonly outputsPerDay: number;
  readonly relative: number;
  /** Share of the mature colony on the surfaces at the start; see `mature.ts`. */
  readonly colony: Colony;
  readonly stop: StopAndStart | null;
  /** Spread each day's food evenly instead of in meals: a third of the steps, and the daily swing is lost. */
  readonly evenFeeding?: boolean;
  /** The keeper's test: when so many doses running are gone within the time, dosing ends and the day is told in `provenDay`. */
  readonly proof?: { readonly times: number; readonly withinDays: number; readonly tan: number; readonly no2: number };
  /** Temperatures of the cells through an outage, by hours since it began; constant when absent. */
  readonly outageTemperatures?: (hours: number, event: PlanEvent & { kind: "power cut" }) => readonly number[];
  /** Share of nitrifiers lost in an outage by hours since it began, per film. */
  readonly outageLoss?: (event: PlanEvent & { kind: "power cut" }, film: number) => { aob: number; nob: number };
}

/** Areal biomass of each film at the start [g COD/m2]. */
export type Colony = readonly { readonly aob: number; readonly cmx: number; readonly nob: number; readonly het: number }[];

export interface Mark {
  readonly day: number;
  readonly kind: string;
  readonly label: string;
}

export interface Run {
  readonly days: readonly number[];
  /** State at each time, and the pH of each cell, temperature of each cell, chloride. */
  readonly states: readonly Float64Array[];
  readonly ph: readonly Float64Array[];
  readonly temperatures: readonly (readonly number[])[];
  readonly chloride: readonly number[];
  readonly foodGPerDay: readonly number[];
  readonly marks: readonly Mark[];
  readonly ledger: Ledger;
  readonly start: Inventory;
  readonly end: Inventory;
  /** Day on which the keeper's test was passed; null when it was not, or not asked for. */
  readonly provenDay: number | null;
  readonly outcome: Outcome;
  readonly statistics: RunStatistics;
  readonly aquarium: Aquarium;
  readonly upkeep: Upkeep;
}

interface Moment {
  readonly day: number;
  readonly order: number;
  readonly act: () => void;
}

/** Runs the husbandry's plan. The result carries a failure as a value in `outcome`; what was computed until then is kept. */
export function runTimeline(aquarium: Aquarium, options: RunOptions): Run {
  const { system, husbandry, rig, exchange, displayCells, filmOf } = aquarium;
  const upkeep = startingUpkeep(aquarium);
  const volumes = exchange.volumesM3;
  const y = new Float64Array(system.size);
  wettedAreas(aquarium, upkeep).forEach((area, f) => {
    system.conditions.films[f].areaM2 = area;
  });
  system.conditions.guts[0].tanShare = TAN_PER_PROTEIN / NITROGEN_PER_PROTEIN;
  system.conditions.guts[0].wasteShare = FAECES_SHARE;
  system.conditions.guts[1].tanShare = 0.3;
  system.conditions.guts[1].wasteShare = 0.7;
  const setRates = (): void => {
    const t = upkeep.temperatureC[displayCells[0]];
    system.conditions.guts[0].ratePerDay = gutStageRatePerDay(t);
    system.conditions.guts[1].ratePerDay = carcassDecayPerDay(t);
  };
  setRates();
  applyUpkeep(aquarium, upkeep, volumes);
  fill(system, y, husbandry.start);
  options.colony.forEach((stock, f) => {
    for (const guild of ["aob", "cmx", "nob", "het"] as const) y[system.filmIndex(f, guild)] = stock[guild];
  });
  const ledger = new Ledger();
  const start = inventory(system, y);
  let chloride = husbandry.start.chlorideGPerM3;
  const feeding = { factor: new Map<string, number>(), extraGPerDay: 0 };
  const masses = new Map<string, number>();
  const present: AnimalGroup[] = [];
  const marks: Mark[] = [];

  // Sampling: output points are read from the dense output and never alter the steps.
  const spacing = 1 / options.outputsPerDay;
  const days: number[] = [];
  const states: Float64Array[] = [];
  const ph: Float64Array[] = [];
  const temperatures: number[][] = [];
  const chlorides: number[] = [];
  const food: number[] = [];
  let nextOutput = 0;
  const foodNow = (): number => present.reduce((sum, group) => sum + groupFood(group), 0) + feeding.extraGPerDay;
  const groupFood = (group: AnimalGroup): number =>
    group.foodGPerDay * (masses.get(group.id) ?? 1) * (feeding.factor.get(group.id) ?? 1);
  const keep = (t: number, state: Float64Array): void => {
    days.push(t);
    states.push(Float64Array.from(state));
    const acid = new Float64Array(system.wiring.cells.length);
    system.ph(state, acid);
    ph.push(acid);
    temperatures.push([...upkeep.temperatureC]);
    chlorides.push(chloride);
    food.push(foodNow());
  };
  const scratch = new Float64Array(system.size);
  const absolute = system.absoluteTolerances();
  const solver = new StiffSolver(system, { tolerances: { relative: options.relative, absolute }, maxSteps: 200_000 });

  // Set by whatever makes the state or the equations jump, so that the solver starts afresh only then.
  let jumped = false;
  const book = (label: string, act: () => void): void => {
    jumped = true;
    booked(system, y, ledger, label, act);
  };
  const change = (act: () => void): void => {
    jumped = true;
    act();
    setRates();
    applyUpkeep(
      aquarium,
      upkeep,
      system.conditions.cells.map((cell) => cell.volumeM3),
    );
  };
  const rewet = (): void => {
    wettedAreas(aquarium, upkeep).forEach((area, f) => {
      setFilmArea(system, y, f, area);
    });
  };
  const films = (where: string | null): number[] =>
    where === null
      ? [...filmOf.towers, ...filmOf.submerged]
      : system.wiring.films.flatMap((film, f) => (film.id === where || film.id.startsWith(`${where} `) ? [f] : []));

  let provenDay: number | null = null;
  let lastDoseDay = Number.NEGATIVE_INFINITY;
  let passes = 0;
  /** Looks at the water when a dose is due: was the last one gone in time? */
  const look = (day: number): void => {
    const { proof } = options;
    if (!proof || provenDay !== null || lastDoseDay === Number.NEGATIVE_INFINITY) return;
    const gone =
      y[system.cellIndex(displayCells[0], "tan")] < proof.tan && y[system.cellIndex(displayCells[0], "no2")] < proof.no2;
    if (gone && day - lastDoseDay <= proof.withinDays * 1.001) passes++;
    else if (!gone || day - lastDoseDay > proof.withinDays * 1.001) passes = 0;
    if (passes >= proof.times) {
      provenDay = day;
      marks.push({ day, kind: "proof", label: "dose test passed" });
    }
  };

  const act = (event: PlanEvent): void => {
    let done = true;
    switch (event.kind) {
      case "dose": {
        const feeds = event.substance === "ammonia" || event.substance === "ammonium";
        if (feeds) look(event.day);
        if (feeds && provenDay !== null) {
          done = false;
          break;
        }
        if (event.onlyBelow) {
          const tan = y[system.cellIndex(displayCells[0], "tan")];
          const no2 = y[system.cellIndex(displayCells[0], "no2")];
          done = tan < event.onlyBelow.tan && no2 < event.onlyBelow.no2;
        }
        if (!done) break;
        if (feeds) lastDoseDay = event.day;
        book(`dosed ${event.substance}`, () => {
          const grams = dose(system, y, event.substance, event.amount, event.toLevel);
          chloride += grams / volumes.reduce((a, b) => a + b, 0);
        });
        break;
      }
      case "feed":
        for (const group of husbandry.groups)
          if (event.group === null || event.group === group.id) feeding.factor.set(group.id, event.factor);
        feeding.extraGPerDay = event.extraGPerDay;
        break;
      case "water change": {
        const before = inventory(system, y);
        changeWater(system, y, event.share, event.tap);
        const after = inventory(system, y);
        const broughtIn = bringsIn(aquarium, event.share, event.tap);
        ledger.add("tap water", broughtIn);
        ledger.add("water changes", after.total - before.total - broughtIn);
        chloride += event.share * (event.tap.chlorideGPerM3 - chloride);
        upkeep.salinityGPerKg += event.share * (event.tap.salinityGPerKg - upkeep.salinityGPerKg);
        // Untreated chloramine reaches the films: half of the nitrifiers at 1 g Cl2/m3 in the mixed water (modelling assumption).
        if (!event.tap.treated && event.tap.chloramineGPerM3 > 0) {
          const lost = 1 - 0.5 ** (event.share * event.tap.chloramineGPerM3);
          system.wiring.films.forEach((_, f) => {
            kill(system, y, f, { aob: lost, cmx: lost, nob: lost, het: lost });
          });
        }
        change(() => undefined);
        break;
      }
      case "rinse media":
      case "replace media": {
        const lost = event.kind === "rinse media" ? event.lostShare : event.share;
        book("media rinsed or replaced", () => {
          for (const f of films(event.where)) rinse(system, y, f, lost);
        });
        break;
      }
      case "medicine": {
        jumped = true;
        system.wiring.films.forEach((_, f) => {
          kill(system, y, f, { aob: event.aobLost, cmx: event.aobLost, nob: event.nobLost });
        });
        if (event.inhibition > 0 && event.lastsDays > 0) {
          change(() => {
            upkeep.aobActivity = 1 - event.inhibition;
            upkeep.nobActivity = 1 - event.inhibition;
          });
          later(event.day + event.lastsDays, () =>
            change(() => {
              upkeep.aobActivity = 1;
              upkeep.nobActivity = 1;
            }),
          );
        }
        break;
      }
      case "carcass":
        book("dead animals", () => {
          y[system.gutIndex(1, 0)] += event.massG * CARCASS_NITROGEN_SHARE;
        });
        if (event.foundDay !== null) {
          later(event.foundDay, () => {
            book("dead animals taken out", () => {
              y[system.gutIndex(1, 0)] = 0;
            });
            marks.push({ day: event.foundDay ?? event.day, kind: "carcass", label: "dead animal found and taken out" });
          });
        }
        break;
      case "power cut":
        powerCut(event);
        break;
      case "wetting":
        change(() => {
          rig.towers.forEach((tower, t) => {
            if (event.tower === null || event.tower === tower.id) upkeep.wettedShare[t] = event.wettedShare;
          });
          rewet();
        });
        break;
      case "prefilter":
        change(() => {
          rig.towers.forEach((tower, t) => {
            if (tower.prefilter) upkeep.blinded[t] = event.blindedShare;
          });
        });
        break;
      case "change pad":
        book("pads changed", () => {
          for (const c of aquarium.towerCells) y[system.cellIndex(c, "xd")] *= 0.1;
        });
        change(() => {
          rig.towers.forEach((_, t) => {
            upkeep.blinded[t] = 0;
          });
        });
        break;
      case "siphon sediment":
        book("sediment siphoned", () => {
          system.wiring.cells.forEach((_, c) => {
            if (!aquarium.towerCells.includes(c)) y[system.cellIndex(c, "xd")] *= 0.2;
          });
        });
        break;
      case "lid":
        change(() => {
          upkeep.lid.fill(event.state);
        });
        break;
      case "temperature":
        change(() => {
          upkeep.temperatureC.fill(event.setpointC);
        });
        break;
      case "plants":
        change(() => {
          upkeep.plantUptakeGNPerDay = event.uptakeGNPerDay;
        });
        break;
    }
    if (done) marks.push({ day: event.day, kind: event.kind, label: event.label });
  };

  const batteryAir = (): number => {
    const { volumeM3, temperatureC } = system.conditions.cells[displayCells[0]];
    return batteryAirPerDay(volumeM3, displayPlanM2(rig.displays[0]), temperatureC, upkeep.salinityGPerKg);
  };
  const powerCut = (event: PlanEvent & { kind: "power cut" }): void => {
    const { stop } = options;
    const began = event.day;
    change(() => {
      if (stop) book("water on the floor", () => moveWater(system, y, stop.stopShare, stop.restVolumesM3));
      upkeep.running = false;
      upkeep.dark = event.everythingOff;
      upkeep.batteryAirPerDay = event.batteryAir ? batteryAir() : 0;
    });
    // Water poured from a jug: a share of the missing oxygen is made good each time.
    if (event.stirEveryHours !== null)
      for (let h = event.stirEveryHours; h < event.hours; h += event.stirEveryHours)
        later(began + h / 24, () => {
          jumped = true;
          for (const c of displayCells) {
            const { o2SaturationGPerM3, temperatureC } = system.conditions.cells[c];
            const i = system.cellIndex(c, "o2");
            y[i] += pouringShare(temperatureC) * Math.max(0, o2SaturationGPerM3 - y[i]);
          }
        });
    // Through the outage the temperature is followed in hourly pieces, each at its own mean (first-order splitting; error below 0.1 K).
    if (options.outageTemperatures)
      for (let h = 0; h < event.hours; h++) {
        const middle = Math.min(event.hours, h + 0.5);
        later(began + h / 24, () =>
          change(() => {
            upkeep.temperatureC = [...(options.outageTemperatures?.(middle, event) ?? upkeep.temperatureC)];
          }),
        );
      }
    later(began + event.hours / 24, () => {
      system.wiring.films.forEach((_, f) => {
        const lost = options.outageLoss?.(event, f);
        if (lost) kill(system, y, f, { aob: lost.aob, cmx: lost.aob, nob: lost.nob, het: lost.aob });
      });
      change(() => {
        if (stop) book("water on the floor", () => moveWater(system, y, stop.startShare, stop.runningVolumesM3));
        upkeep.running = true;
        upkeep.dark = false;
        upkeep.batteryAirPerDay = 0;
        if (options.outageTemperatures) upkeep.temperatureC = aquarium.cells.map(() => husbandry.temperatureC);
      });
      marks.push({ day: began + event.hours / 24, kind: "power back", label: "power back" });
    });
  };

  // Moments in order of time; more may be added while running.
  const moments: Moment[] = [];
  let order = 0;
  const later = (day: number, what: () => void): void => {
    const moment = { day, order: order++, act: what };
    let i = moments.length;
    while (i > 0 && moments[i - 1].day > day) i--;
    moments.splice(i, 0, moment);
  };
  const fed = (group: AnimalGroup): void => {
    const meal = groupFood(group) / group.feedingHours.length;
    const nitrogen = meal * group.proteinShare * NITROGEN_PER_PROTEIN;
    book("food", () => {
      y[system.gutIndex(0, 0)] += nitrogen * (1 - group.uneatenShare);
      layDown(system, y, displayCells[0], nitrogen * group.uneatenShare);
    });
  };
  const updateAnimals = (): void => {
    upkeep.groups = present.map((group) => ({ ...group, massG: group.massG * (masses.get(group.id) ?? 1) }));
  };
  for (const event of husbandry.events)
    if (event.day <= husbandry.days) moments.push({ day: event.day, order: order++, act: () => act(event) });
  for (const group of husbandry.groups) {
    moments.push({
      day: group.arrivesDay,
      order: order++,
      act: () => {
        present.push(group);
        change(updateAnimals);
        if (group.arrivesDay > 0)
          marks.push({ day: group.arrivesDay, kind: "stock", label: `${group.count} ${group.name} arrive` });
      },
    });
    if (group.leavesDay !== null) {
      const leaves = group.leavesDay;
      moments.push({
        day: leaves,
        order: order++,
        act: () => {
          present.splice(present.indexOf(group), 1);
          change(updateAnimals);
          marks.push({ day: leaves, kind: "stock", label: `${group.name} leave` });
        },
      });
    }
  }
  for (let day = 0; day < husbandry.days; day++) {
    moments.push({
      day,
      order: order++,
      act: () => {
        for (const group of present) {
          if (group.growthPerDay !== 0) masses.set(group.id, (masses.get(group.id) ?? 1) * (1 + group.growthPerDay));
        }
        if (present.some((group) => group.growthPerDay !== 0)) change(updateAnimals);
        fasting(day);
        if (options.evenFeeding) feedEvenly(day);
        if (feeding.extraGPerDay > 0)
          book("food", () => layDown(system, y, displayCells[0], feeding.extraGPerDay * 0.42 * NITROGEN_PER_PROTEIN));
      },
    });
    if (options.evenFeeding) continue;
    for (const group of husbandry.groups)
      for (const hour of group.feedingHours)
        moments.push({ day: day + hour / 24, order: order++, act: () => (present.includes(group) ? fed(group) : undefined) });
  }
  const feedEvenly = (day: number): void => {
    const gut = system.conditions.guts[0];
    let [eaten, uneaten] = [0, 0];
    for (const group of present) {
      const nitrogen = groupFood(group) * group.proteinShare * NITROGEN_PER_PROTEIN;
      eaten += nitrogen * (1 - group.uneatenShare);
      uneaten += nitrogen * group.uneatenShare;
    }
    if (eaten !== gut.eatenGNPerDay || uneaten !== gut.uneatenGNPerDay)
      change(() => Object.assign(gut, { eatenGNPerDay: eaten, uneatenGNPerDay: uneaten }));
    const until = Math.min(day + 1, husbandry.days);
    if (eaten + uneaten > 0) later(until, () => ledger.add("food", (eaten + uneaten) * (until - day)));
  };
  /** Animals that get no food live on themselves: their nitrogen is booked as it is given off over the day. */
  const fasting = (day: number): void => {
    const hungry = present.filter((group) => groupFood(group) === 0);
    const cell = system.conditions.cells[displayCells[0]];
    const rate = hungry.reduce((sum, group) => sum + group.count * endogenousTanGPerDay(group.massG, cell.temperatureC), 0);
    const perVolume = rate / cell.volumeM3;
    if (perVolume !== cell.excretionGNPerM3Day) {
      upkeep.fastingGNPerDay = rate;
      change(() => undefined);
    }
    const until = Math.min(day + 1, husbandry.days);
    if (rate > 0) later(until, () => ledger.add("animals' own tissue", rate * (until - day)));
  };
  moments.sort((a, b) => a.day - b.day || a.order - b.order);

  let t = 0;
  let outcome: Outcome = { status: "finished", t: 0 };
  while (moments.length > 0 || t < husbandry.days) {
    const next = Math.min(moments[0]?.day ?? husbandry.days, husbandry.days);
    if (next > t) {
      try {
        outcome = solver.advance(t, next, y, (step) => {
          while (nextOutput <= step.t1 && nextOutput < next) {
            if (nextOutput >= step.t0) {
              step.at(nextOutput, scratch);
              keep(nextOutput, scratch);
            }
            nextOutput += spacing;
          }
          return undefined;
        });
      } catch (error) {
        if (!(error instanceof RangeError)) throw error;
        outcome = { status: "failed", t, code: "not-finite", message: error.message };
      }
      if (outcome.status !== "finished") break;
      t = next;
    }
    if (moments.length === 0 || moments[0].day > husbandry.days) break;
    jumped = false;
    while (moments.length > 0 && moments[0].day <= t) moments.shift()?.act();
    if (jumped) solver.restart();
    if (t >= husbandry.days) break;
  }
  keep(t, y);
  return {
    days,
    states,
    ph,
    temperatures,
    chloride: chlorides,
    foodGPerDay: food,
    marks,
    ledger,
    start,
    end: inventory(system, y),
    provenDay,
    outcome,
    statistics: solver.statistics,
    aquarium,
    upkeep,
  };
}

/** Nitrogen that a water change brings with the tap water [g N]. */
function bringsIn(
  aquarium: Aquarium,
  share: number,
  tap: { tanGPerM3: number; no2GPerM3: number; no3GPerM3: number; chloramineGPerM3: number },
): number {
  const total = aquarium.system.conditions.cells.reduce((sum, cell) => sum + cell.volumeM3, 0);
  return share * total * (tap.tanGPerM3 + tap.no2GPerM3 + tap.no3GPerM3 + (tap.chloramineGPerM3 * G_N_PER_EQ) / 70.906);
}
