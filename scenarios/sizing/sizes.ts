// The sizing search: for each kind of media and each flow through it the pump, the sump and the tower that work, and what limits each. Every row
// is a scenario of its own, built and simulated again from its text.

import { fitAndLoad } from "../../models/hydraulics/planning/cabinet-fit.ts";
import type { Rig } from "../../models/rig.ts";
import { yieldToEventLoop } from "../../sim/ensemble/scope.ts";
import type { CourseRunner } from "../forecast/course.ts";
import { isSurer } from "../forecast/promise.ts";
import { type CoupledModel, type NitrogenSetup, nitrogenSetup } from "../model/compile.ts";
import { withTower } from "./grown-in.ts";
import {
  fillTo,
  hasRange,
  type Levels,
  levelsOf,
  RANGE_M,
  reserveAt,
  shortestSump,
  smallestLabel,
  top,
  towerSpareM,
} from "./levels.ts";
import {
  checkedWith,
  type LoadPromise,
  largestLoad,
  leastMedia,
  leastTriedM3,
  mostMediaM3,
  promisedLoad,
  type TowerRoom,
  towerFor,
  volumeOf,
} from "./media-size.ts";
import { type Built, builtWith, type Parts, pumpCanChange, type Written } from "./parts.ts";
import type { AsWritten, Failure, PumpSize, SizeRequest, SizeRow, SizeSettings, Sizes } from "./size-types.ts";

/** Without a cabinet, a sump may be this many times as long as written. */
const LONGER = 2;
/** Part of the written length under which no sump is tried: pump and heater need room (modelling assumption). */
const SHORTER = 0.4;
/** Length of a tower above a sump of one compartment: the rest is for pump and hands (modelling assumption). */
const TOWER_SHARE = 2 / 3;
/** Media that is added when fresh members do not keep the limits. */
const MORE_MEDIA = 1.2;
const MOST_TRIES = 5;
const SHALLOWEST_TOWER_M = 0.05;

const setupOf = (coupled: CoupledModel): NitrogenSetup => nitrogenSetup(coupled, coupled.simulator.simulate());

/** A rig whose tower ends under the tank where no cabinet is written. */
const bounded = (rig: Rig): Rig => ({
  ...rig,
  cabinet: rig.cabinet ?? {
    lengthM: Number.POSITIVE_INFINITY,
    widthM: Number.POSITIVE_INFINITY,
    heightM: Math.min(...rig.displays.map(({ bottomZ }) => bottomZ)),
    doorWidthM: Number.POSITIVE_INFINITY,
    doorHeightM: Number.POSITIVE_INFINITY,
  },
});

const labelOf = ({ return: { pump } }: Rig): number => pump.curve[pump.curve.length - 1][0];

function pumpOf({ running, resolved }: CoupledModel): PumpSize {
  const { rig } = resolved;
  const { flowM3PerS, headM, shutOffHeadM } = running.pump;
  return { labelM3PerS: labelOf(rig), shutOffM: shutOffHeadM, flowM3PerS, headM, turnoverPerHour: running.turnoverPerHour };
}

/** Length of the sump over which a tower can stand [m]. */
function belowTower({ towers, sump: { chambers, lengthM } }: Rig): number {
  return chambers.length > 1 ? chambers.find(({ id }) => id === towers[0].drainsTo)!.lengthM : TOWER_SHARE * lengthM;
}

/** Where media can stand, when the sump may become longer still. @param lengthM of the tower as written */
function towerRoom(rig: Rig, longestSumpM: number, lengthM: number): TowerRoom {
  const [tower] = rig.towers;
  const longestM = belowTower(rig) * (longestSumpM / rig.sump.lengthM);
  return {
    widthM: tower.widthM,
    lengthM: Math.min(lengthM, longestM),
    longestM,
    deepestM: Math.floor(200 * (tower.mediaDepthM + towerSpareM(bounded(rig))) + 1e-6) / 200,
  };
}

interface Filled {
  readonly built: Built;
  readonly levels: Levels;
}

class Search {
  private readonly written: Written;
  private readonly request: SizeRequest;
  private readonly settings: SizeSettings;
  private readonly longestSumpM: number;
  private readonly promise: LoadPromise;
  private readonly runner: CourseRunner;
  private readonly sumps = new Map<number, Required<Parts>["sump"] | null>();

  constructor(written: Written, request: SizeRequest, settings: SizeSettings, longestSumpM: number) {
    this.written = written;
    this.request = request;
    this.settings = settings;
    this.longestSumpM = longestSumpM;
    const { limits, confidence } = request;
    const { pool, signal } = settings;
    this.runner = { pool, signal };
    this.promise = { limits, confidence, members: settings.members, seed: settings.seed };
  }

  /** The smallest pump that turns the system over so often, or the written one where it is known by its curve; null when none does. */
  private pumpFor(turnover: number): { readonly parts: Pick<Parts, "labelM3PerS">; readonly built: Built } | null {
    const { written } = this;
    const known = new Map<number, Built>();
    const reaches = (labelM3PerS: number | undefined): Built | null => {
      const built = builtWith(written, labelM3PerS === undefined ? {} : { labelM3PerS });
      return "problem" in built || built.coupled.running.turnoverPerHour < turnover ? null : built;
    };
    if (!pumpCanChange(written)) {
      const built = reaches(undefined);
      return built && { parts: {}, built };
    }
    const labelM3PerS = smallestLabel((label) => {
      const built = reaches(label);
      if (built) known.set(label, built);
      return built !== null;
    });
    return labelM3PerS === null ? null : { parts: { labelM3PerS }, built: known.get(labelM3PerS)! };
  }

  /** The shortest sump for a pump, with the tower as written; null when none up to the longest has a range of levels. */
  sumpFor(parts: Pick<Parts, "labelM3PerS">): Required<Parts>["sump"] | null {
    const { written, longestSumpM } = this;
    const key = parts.labelM3PerS ?? 0;
    const known = this.sumps.get(key);
    if (known !== undefined) return known;
    const waterM = written.rig.sump.runningLevelM;
    const found = shortestSump(
      (lengthM) => {
        const built = builtWith(written, { ...parts, sump: { lengthM, waterM } });
        return "problem" in built ? null : built.coupled.resolved.rig;
      },
      Math.min(SHORTER * written.rig.sump.lengthM, longestSumpM),
      longestSumpM,
    );
    const sump = found && { lengthM: found.lengthM, waterM: fillTo(found.levels) };
    this.sumps.set(key, sump);
    return sump;
  }

  /** Parts filled to the level that suits them. It is found in turns, because plates follow the level; a sump that is too short grows. */
  private async filled(parts: Parts & Required<Pick<Parts, "sump">>): Promise<Filled | "sump" | "built"> {
    let { sump } = parts;
    for (let n = 0; n < MOST_TRIES; n++) {
      await yieldToEventLoop(this.settings.signal);
      const built = builtWith(this.written, { ...parts, sump });
      if ("problem" in built) return "built";
      const levels = levelsOf(built.coupled.resolved.rig);
      if (!hasRange(levels)) {
        sump = { ...sump, lengthM: Math.min(this.longestSumpM, Math.ceil(200 * 1.05 * sump.lengthM) / 200) };
        continue;
      }
      const waterM = fillTo(levels);
      const holds = sump.waterM <= top(levels) + 1e-9 && sump.waterM > levels.lowM + RANGE_M / 2;
      if (holds && (n >= 2 || Math.abs(sump.waterM - waterM) < 0.002)) return { built, levels };
      sump = { ...sump, waterM };
    }
    return "sump";
  }

  async row(media: string, turnover: number): Promise<SizeRow> {
    const { settings, request, longestSumpM, promise, runner } = this;
    const row: SizeRow = { ...NOT_REACHED, media, turnover };
    const found = this.pumpFor(turnover);
    if (!found) return { ...row, failure: "pump" };
    const { running } = found.built.coupled;
    const pump = pumpOf(found.built.coupled);
    if (!running.balanced || running.pump.drawsAir) return { ...row, pump, failure: "drains" };
    await yieldToEventLoop(settings.signal);
    const sump = this.sumpFor(found.parts);
    if (!sump) return { ...row, pump, failure: "sump" };
    const parts = { ...found.parts, media, sump };
    const first = builtWith(this.written, parts);
    if ("problem" in first) return { ...row, pump, failure: "built", problem: first.problem };
    const { rig } = first.coupled.resolved;
    let room = towerRoom(rig, longestSumpM, this.written.rig.towers[0]?.lengthM ?? rig.towers[0].lengthM);
    if (!(room.deepestM >= SHALLOWEST_TOWER_M)) return { ...row, pump, failure: "height" };
    const setup = setupOf(first.coupled);
    const mostM3 = mostMediaM3(room);
    const least = await leastMedia(setup, room, promise, runner);
    const choice = () => ({ triedM3: leastTriedM3(room), leastM3: least, mostM3: mostMediaM3(room), deepestM: room.deepestM });
    if (least === null) {
      const full = towerFor(mostM3, room);
      const tallest = withTower(setup, { lengthM: full.lengthM, mediaDepthM: full.depthM });
      const carries = await largestLoad(tallest, promise, runner, 1);
      return { ...row, pump, tower: { ...full, ...choice() }, carries, failure: carries === 0 ? "unfed" : "load" };
    }
    let volume = least;
    for (let round = 1; ; round++) {
      const tower = towerFor(volume, room);
      const lengthM = Math.ceil((200 * (rig.sump.lengthM * tower.lengthM)) / belowTower(rig) - 1e-6) / 200;
      const longer = { ...sump, lengthM: Math.min(longestSumpM, Math.max(sump.lengthM, lengthM)) };
      const filled = await this.filled({ ...parts, tower, sump: longer });
      if (typeof filled === "string") return { ...row, pump, tower: { ...tower, ...choice() }, failure: filled };
      const { coupled, text } = filled.built;
      // A level that rose with the length of the sump lifts the tower with it.
      const spareM = towerSpareM(bounded(coupled.resolved.rig));
      if (spareM < 0 && round < MOST_TRIES && room.deepestM + spareM > SHALLOWEST_TOWER_M) {
        room = { ...room, deepestM: Math.floor(200 * (room.deepestM + spareM) + 1e-6) / 200 };
        volume = Math.min(volume, mostMediaM3(room));
        continue;
      }
      const fresh = await checkedWith(setupOf(coupled), promise, settings.checked, round, runner);
      const sure = isSurer(fresh, request.confidence);
      if (!sure && round < MOST_TRIES && volume < mostMediaM3(room)) {
        volume = Math.min(mostMediaM3(room), MORE_MEDIA * volumeOf(tower));
        continue;
      }
      const built = coupled.resolved.rig;
      const waterM = built.sump.runningLevelM;
      const { fit, wetMassKg } = fitAndLoad(built);
      const misfits = fit.filter(({ fits }) => !fits);
      const failure: Failure | null = !sure ? "load" : misfits.length > 0 ? "cabinet" : null;
      return {
        ...row,
        pump: pumpOf(coupled),
        sump: { ...filled.levels, ...reserveAt(built, waterM), lengthM: built.sump.lengthM, waterM },
        tower: { ...tower, ...choice() },
        fresh,
        wetMassKg,
        misfits,
        failure,
        text,
      };
    }
  }

  /** What the parts as written could do with less, and how much they could carry. */
  async asWritten(coupled: CoupledModel): Promise<AsWritten> {
    const { settings, promise, runner } = this;
    const { rig } = coupled.resolved;
    const runsAtM = rig.sump.runningLevelM;
    const levels = levelsOf(rig);
    await yieldToEventLoop(settings.signal);
    const shortestSumpM = this.sumpFor({})?.lengthM ?? null;
    await yieldToEventLoop(settings.signal);
    const setup = setupOf(coupled);
    const { load, fresh } = await promisedLoad(setup, promise, settings.checked, runner);
    const [tower] = rig.towers;
    const room = tower && {
      widthM: tower.widthM,
      lengthM: tower.lengthM,
      longestM: tower.lengthM,
      deepestM: tower.mediaDepthM,
    };
    return {
      levels,
      runsAtM,
      lengthM: rig.sump.lengthM,
      reserve: reserveAt(rig, runsAtM),
      leastReserve: levels.highM === null ? null : reserveAt(rig, top(levels)),
      shortestSumpM,
      mediaM3: room ? mostMediaM3(room) : null,
      leastMediaM3: room && load >= 1 ? await leastMedia(setup, room, promise, runner) : null,
      largestLoad: load,
      fresh,
    };
  }
}

const NOT_REACHED = {
  pump: null,
  sump: null,
  tower: null,
  carries: null,
  fresh: null,
  wetMassKg: null,
  misfits: [],
  failure: null,
  problem: null,
  text: null,
} as const;

/**
 * Runs the search.
 * @param written the scenario as read; its rig has one tower or none
 * @throws the reason of the signal, or the error of a worker
 */
export async function sizesOf(
  written: Written,
  coupled: CoupledModel,
  request: SizeRequest,
  settings: SizeSettings,
): Promise<Sizes> {
  const { cabinet, sump } = written.rig;
  const longest = cabinet ? cabinet.lengthM - 2 * sump.glassM : LONGER * sump.lengthM;
  const longestSumpM = Math.floor(200 * longest + 1e-6) / 200;
  const search = new Search(written, request, settings, longestSumpM);
  const of = 1 + request.turnovers.length * request.media.length;
  settings.onProgress?.(0, of);
  const asWritten = await search.asWritten(coupled);
  const rows: SizeRow[] = [];
  for (const turnover of request.turnovers)
    for (const media of request.media) {
      settings.onProgress?.(1 + rows.length, of);
      rows.push(await search.row(media, turnover));
    }
  settings.onProgress?.(of, of);
  const place = ({ failure, sump: size, tower }: SizeRow): readonly number[] => [
    failure === null ? 0 : 1,
    size?.lengthM ?? 0,
    tower ? volumeOf(tower) : 0,
  ];
  return {
    room: { longestSumpM, shortestSumpM: SHORTER * sump.lengthM, cabinet },
    foodGPerDay: coupled.resolved.management.groups.reduce((sum, { foodGPerDay }) => sum + foodGPerDay, 0),
    written: asWritten,
    rows: rows
      .map((row, n) => ({ row, key: [...place(row), n] }))
      .sort((a, b) => a.key.map((value, i) => value - b.key[i]).find((difference) => Math.abs(difference) > 1e-9) ?? 0)
      .map(({ row }) => row),
  };
}
