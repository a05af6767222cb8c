// What each event of the plan does to an aquarium.
import { pow } from "../../../sim/elementary.ts";
import { CARCASS_NITROGEN_SHARE } from "../../life/excretion.ts";
import type { PlanEvent, TapWater } from "../management.ts";
import { inventory } from "../reactor/inventory.ts";
import { changeWater, dose, kill, rinse, tapNitrogenGPerM3 } from "../tank/operations.ts";
import type { ProofByDose } from "./challenge-test.ts";
import { DIRT_LEFT } from "./closed-filters.ts";
import type { Feeding } from "./feeding.ts";
import { changePads, clogPads, leaveDirt } from "./pads-and-sediment.ts";
import { type OutageOptions, powerCut } from "./power-cut.ts";
import type { Keeping } from "./run-state.ts";

type EventOf<K extends PlanEvent["kind"]> = Extract<PlanEvent, { kind: K }>;

/** Share of nitrifiers that untreated chloramine of 1 g Cl2/m3 in the mixed water leaves alive (modelling assumption). */
const ALIVE_AT_1_G_CHLORAMINE = 0.5;
/** Share of what lies there that a new pad, and siphoning, leave behind (modelling assumption). */
const LEFT_BY_PAD_CHANGE = 0.1;
const LEFT_BY_SIPHON = 0.2;

export interface Doing {
  readonly keeping: Keeping;
  readonly feeding: Feeding;
  readonly proof: ProofByDose;
  readonly outage: OutageOptions;
}

/** Does an event and marks it, unless it was a dose that was not due. */
export function doEvent(doing: Doing, event: PlanEvent): void {
  if (act(doing, event)) doing.keeping.mark(event.day, event.kind, event.label);
}

/** @returns whether anything was done */
function act({ keeping, feeding, proof, outage }: Doing, event: PlanEvent): boolean {
  const { aquarium, upkeep } = keeping;
  const { towers } = aquarium.rig;
  switch (event.kind) {
    case "dose":
      return giveDose(keeping, proof, event);
    case "feed":
      feeding.changePlan(event.group, event.factor, event.extraGPerDay);
      return true;
    case "water change":
      takeNewWater(keeping, event.share, event.tap);
      return true;
    case "rinse media":
      loseFilm(keeping, event.where, event.lostShare);
      return true;
    case "replace media":
      loseFilm(keeping, event.where, event.share);
      return true;
    case "medicine":
      medicate(keeping, event);
      return true;
    case "carcass":
      leaveCarcass(keeping, event);
      return true;
    case "power cut":
      powerCut(keeping, outage, event, feeding.hoursSinceMeal(event.day));
      return true;
    case "wetting":
      keeping.change(() => {
        towers.forEach((tower, t) => {
          if (event.tower === null || event.tower === tower.id) upkeep.wettedShare[t] = event.wettedShare;
        });
        keeping.rewet();
      });
      return true;
    case "prefilter":
      clogPads(keeping, event.blindedShare);
      return true;
    case "change pad":
      changePads(keeping, LEFT_BY_PAD_CHANGE);
      return true;
    case "siphon sediment":
      leaveDirt(
        keeping,
        "sediment siphoned",
        [...aquarium.cells.keys()].filter((c) => !aquarium.towerCells.includes(c) && !aquarium.closedCells.includes(c)),
        LEFT_BY_SIPHON,
      );
      return true;
    case "lid":
      keeping.change(() => upkeep.lid.fill(event.state));
      return true;
    case "temperature":
      keeping.change(() => {
        upkeep.setpointC = event.setpointC;
        if (upkeep.running) upkeep.temperatureC.fill(event.setpointC);
      });
      return true;
    case "plants":
      keeping.change(() => {
        upkeep.plantUptakeGNPerDay = event.uptakeGNPerDay;
      });
      return true;
  }
}

/** Gives a dose unless the water says it is not due, or the keeper's test has been passed. @returns whether it was given */
function giveDose(keeping: Keeping, proof: ProofByDose, event: EventOf<"dose">): boolean {
  const { system, exchange } = keeping.aquarium;
  const feeds = event.substance === "ammonia" || event.substance === "ammonium";
  if (feeds) proof.look(event.day);
  if (feeds && proof.provenDay !== null) return false;
  const { onlyBelow } = event;
  if (onlyBelow && !(keeping.inDisplay("tan") < onlyBelow.tan && keeping.inDisplay("no2") < onlyBelow.no2)) return false;
  if (feeds) proof.dosed(event.day);
  keeping.book(`dosed ${event.substance}`, () => {
    const gramsChloride = dose(system, keeping.y, event.substance, event.amount, event.toLevel);
    keeping.chlorideGPerM3 += gramsChloride / exchange.volumesM3.reduce((a, b) => a + b, 0);
  });
  return true;
}

function takeNewWater(keeping: Keeping, share: number, tap: TapWater): void {
  const { aquarium, y, ledger, upkeep } = keeping;
  const { system } = aquarium;
  const before = inventory(system, y).total;
  changeWater(system, y, share, tap);
  const volumeM3 = system.conditions.cells.reduce((sum, cell) => sum + cell.volumeM3, 0);
  const broughtIn = share * volumeM3 * tapNitrogenGPerM3(tap);
  ledger.add("tap water", broughtIn);
  ledger.add("water changes", inventory(system, y).total - before - broughtIn);
  keeping.chlorideGPerM3 += share * (tap.chlorideGPerM3 - keeping.chlorideGPerM3);
  upkeep.salinityGPerKg += share * (tap.salinityGPerKg - upkeep.salinityGPerKg);
  if (!tap.treated && tap.chloramineGPerM3 > 0) {
    const lost = 1 - pow(ALIVE_AT_1_G_CHLORAMINE, share * tap.chloramineGPerM3);
    for (const f of system.wiring.films.keys()) kill(system, y, f, { aob: lost, cmx: lost, nob: lost, het: lost });
  }
  keeping.change(() => undefined);
}

/** Takes a share of the film off a surface, by its id or the part it is in; off all media when none is named. */
function loseFilm(keeping: Keeping, where: string | null, lostShare: number): void {
  const { system, filmOf } = keeping.aquarium;
  const films =
    where === null
      ? [...filmOf.towers, ...filmOf.submerged, ...filmOf.closed]
      : system.wiring.films.flatMap((film, f) => (film.id === where || film.id.startsWith(`${where} `) ? [f] : []));
  keeping.book("media rinsed or replaced", () => {
    for (const f of films) rinse(system, keeping.y, f, lostShare);
  });
  // The media of a closed filter are its pad as well.
  const opened = films.filter((f) => filmOf.closed.includes(f)).map((f) => system.wiring.films[f].cell);
  leaveDirt(keeping, "closed filters rinsed", opened, DIRT_LEFT);
}

function medicate(keeping: Keeping, event: EventOf<"medicine">): void {
  const { system } = keeping.aquarium;
  keeping.jumped = true;
  for (const f of system.wiring.films.keys())
    kill(system, keeping.y, f, { aob: event.aobLost, cmx: event.aobLost, nob: event.nobLost });
  if (event.inhibition <= 0 || event.lastsDays <= 0) return;
  const leaveActive = (activity: number): void =>
    keeping.change(() => {
      keeping.upkeep.aobActivity = activity;
      keeping.upkeep.nobActivity = activity;
    });
  leaveActive(1 - event.inhibition);
  keeping.moments.at(event.day + event.lastsDays, () => leaveActive(1));
}

/** A dead animal begins to dissolve, until it is found. */
function leaveCarcass(keeping: Keeping, { massG, foundDay }: EventOf<"carcass">): void {
  const { system } = keeping.aquarium;
  const remains = system.gutIndex(1, 0);
  keeping.book("dead animals", () => {
    keeping.y[remains] += massG * CARCASS_NITROGEN_SHARE;
  });
  if (foundDay === null) return;
  keeping.moments.at(foundDay, () => {
    keeping.book("dead animals taken out", () => {
      keeping.y[remains] = 0;
    });
    keeping.mark(foundDay, "carcass", "dead animal found and taken out");
  });
}
