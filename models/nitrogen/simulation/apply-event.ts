// What each event of the plan does to an aquarium.

import { CARCASS_NITROGEN_SHARE } from "../../life/excretion.ts";
import { eachGuild, ofEachStep } from "../kinetics/guilds.ts";
import type { ManagementEvent, TapWater } from "../management.ts";
import { inventory } from "../reactor/inventory.ts";
import { changeWater, dose, kill, rinse, tapNitrogenGPerM3 } from "../tank/operations.ts";
import type { ChallengeTest } from "./challenge-test.ts";
import { SOLIDS_LEFT } from "./closed-filters.ts";
import type { Feeding } from "./feeding.ts";
import { changePads, clogPads, depositSolids } from "./pads-and-sediment.ts";
import { type OutageOptions, powerCut } from "./power-cut.ts";
import type { RunState } from "./run-state.ts";

type EventOf<K extends ManagementEvent["kind"]> = Extract<ManagementEvent, { kind: K }>;

/** Share of nitrifiers that untreated chloramine of 1 g Cl2/m3 in the mixed water leaves alive (modelling assumption). */
const ALIVE_AT_1_G_CHLORAMINE = 0.5;
/** Share of what lies there that a new pad, and siphoning, leave behind (modelling assumption). */
const LEFT_BY_PAD_CHANGE = 0.1;
const LEFT_BY_SIPHON = 0.2;

export interface EventContext {
  readonly runState: RunState;
  readonly feeding: Feeding;
  readonly proof: ChallengeTest;
  readonly outage: OutageOptions;
}

/** Does an event and marks it, unless it was a dose that was not due. */
export function applyEvent(doing: EventContext, event: ManagementEvent): void {
  if (act(doing, event)) doing.runState.mark(event.day, event.kind, event.label);
}

/** @returns whether anything was done */
function act({ runState, feeding, proof, outage }: EventContext, event: ManagementEvent): boolean {
  const { aquarium, operating } = runState;
  const { towers } = aquarium.rig;
  switch (event.kind) {
    case "dose":
      return giveDose(runState, proof, event);
    case "feed":
      feeding.changePlan(event.group, event.factor, event.extraGPerDay);
      return true;
    case "water change":
      takeNewWater(runState, event.share, event.tap);
      return true;
    case "rinse media":
      loseFilm(runState, event.where, event.lostShare);
      return true;
    case "replace media":
      loseFilm(runState, event.where, event.share);
      return true;
    case "medicine":
      medicate(runState, event);
      return true;
    case "carcass":
      leaveCarcass(runState, event);
      return true;
    case "power cut":
      powerCut(runState, outage, event, feeding.hoursSinceMeal(event.day));
      return true;
    case "wetting":
      runState.change(() => {
        towers.forEach((tower, t) => {
          if (event.tower === null || event.tower === tower.id) operating.wettedShare[t] = event.wettedShare;
        });
        runState.rewet();
      });
      return true;
    case "prefilter":
      clogPads(runState, event.blindedShare);
      return true;
    case "change pad":
      changePads(runState, LEFT_BY_PAD_CHANGE);
      return true;
    case "siphon sediment":
      depositSolids(
        runState,
        "sediment siphoned",
        [...aquarium.cells.keys()].filter((c) => !aquarium.towerCells.includes(c) && !aquarium.closedCells.includes(c)),
        LEFT_BY_SIPHON,
      );
      return true;
    case "lid":
      runState.change(() => operating.lid.fill(event.state));
      return true;
    case "temperature":
      runState.change(() => {
        operating.setpointC = event.setpointC;
        if (operating.running) operating.temperatureC.fill(event.setpointC);
      });
      return true;
    case "plants":
      runState.change(() => {
        operating.plantUptakeGNPerDay = event.uptakeGNPerDay;
      });
      return true;
  }
}

/** Gives a dose unless the water says it is not due, or the keeper's test has been passed. @returns whether it was given */
function giveDose(runState: RunState, proof: ChallengeTest, event: EventOf<"dose">): boolean {
  const { system, exchange } = runState.aquarium;
  const feeds = event.substance === "ammonia" || event.substance === "ammonium";
  if (feeds) proof.look(event.day);
  if (feeds && proof.provenDay !== null) return false;
  const { onlyBelow } = event;
  if (onlyBelow && !(runState.inDisplay("tan") < onlyBelow.tan && runState.inDisplay("no2") < onlyBelow.no2)) return false;
  if (feeds) proof.dosed(event.day);
  runState.book(`dosed ${event.substance}`, () => {
    const gramsChloride = dose(system, runState.y, event.substance, event.amount, event.toLevel);
    runState.chlorideGPerM3 += gramsChloride / exchange.volumesM3.reduce((a, b) => a + b, 0);
  });
  return true;
}

function takeNewWater(runState: RunState, share: number, tap: TapWater): void {
  const { aquarium, y, ledger, operating } = runState;
  const { system } = aquarium;
  const before = inventory(system, y).total;
  changeWater(system, y, share, tap);
  const volumeM3 = system.conditions.cells.reduce((sum, cell) => sum + cell.volumeM3, 0);
  const broughtIn = share * volumeM3 * tapNitrogenGPerM3(tap);
  ledger.add("tap water", broughtIn);
  ledger.add("water changes", inventory(system, y).total - before - broughtIn);
  runState.chlorideGPerM3 += share * (tap.chlorideGPerM3 - runState.chlorideGPerM3);
  operating.salinityGPerKg += share * (tap.salinityGPerKg - operating.salinityGPerKg);
  if (!tap.treated && tap.chloramineGPerM3 > 0) {
    const lost = 1 - ALIVE_AT_1_G_CHLORAMINE ** (share * tap.chloramineGPerM3);
    for (const f of system.wiring.films.keys())
      kill(
        system,
        y,
        f,
        eachGuild(() => lost),
      );
  }
  runState.change(() => undefined);
}

/** Takes a share of the film off a surface, by its id or the part it is in; off all media when none is named. */
function loseFilm(runState: RunState, where: string | null, lostShare: number): void {
  const { system, filmOf } = runState.aquarium;
  const films =
    where === null
      ? [...filmOf.towers, ...filmOf.submerged, ...filmOf.closed]
      : system.wiring.films.flatMap((film, f) => (film.id === where || film.id.startsWith(`${where} `) ? [f] : []));
  runState.book("media rinsed or replaced", () => {
    for (const f of films) rinse(system, runState.y, f, lostShare);
  });
  // The media of a closed filter are its pad as well.
  const opened = films.filter((f) => filmOf.closed.includes(f)).map((f) => system.wiring.films[f].cell);
  depositSolids(runState, "closed filters rinsed", opened, SOLIDS_LEFT);
}

function medicate(runState: RunState, event: EventOf<"medicine">): void {
  const { system } = runState.aquarium;
  runState.discontinuous = true;
  for (const f of system.wiring.films.keys()) kill(system, runState.y, f, ofEachStep(event.aobLost, event.nobLost));
  if (event.inhibition <= 0 || event.lastsDays <= 0) return;
  const leaveActive = (activity: number): void =>
    runState.change(() => {
      runState.operating.aobActivity = activity;
      runState.operating.nobActivity = activity;
    });
  leaveActive(1 - event.inhibition);
  runState.moments.at(event.day + event.lastsDays, () => leaveActive(1));
}

/** A dead animal begins to dissolve, until it is found. */
function leaveCarcass(runState: RunState, { massG, foundDay }: EventOf<"carcass">): void {
  const { system } = runState.aquarium;
  const remains = system.gutIndex(1, 0);
  runState.book("dead animals", () => {
    runState.y[remains] += massG * CARCASS_NITROGEN_SHARE;
  });
  if (foundDay === null) return;
  runState.moments.at(foundDay, () => {
    runState.book("dead animals taken out", () => {
      runState.y[remains] = 0;
    });
    runState.mark(foundDay, "carcass", "dead animal found and taken out");
  });
}
