// Animals, food, plants, inoculum and the surfaces for biofilm.
import { survivingShare } from "../../models/life/moved-seed.ts";
import type { AnimalGroup, AnimalKind, Inoculum, Plants } from "../../models/nitrogen/management.ts";
import type { Display } from "../../models/rig.ts";
import type { Scenario } from "../schema/schema.ts";
import * as format from "../text/format.ts";
import type { Notes } from "../text/notes.ts";
import { ASSUMED, COMMON } from "../text/reasons.ts";
import { AIR_STONE_M3_PER_H, airStoneTransferPerDay } from "../timeline/air-stone.ts";
import { MARINE_FROM_G_PER_KG } from "./water.ts";

/** Daily food as a share of the animals' mass (common practice, no published source). */
const FOOD_PER_MASS = 0.02;
const USUAL_HOURS: readonly number[] = [8, 18];
const USUAL_PROTEIN = 0.42;
const USUAL_UNEATEN = 0.05;

export interface PlannedFood {
  readonly gPerDay: number;
  readonly proteinShare: number;
}

/** The food that the filter must be ready for: as given, otherwise what the planned animals get when all have arrived. */
export function plannedFood(s: Scenario): PlannedFood | null {
  if (typeof s.food === "number") return { gPerDay: s.food, proteinShare: USUAL_PROTEIN };
  if (s.food) return { gPerDay: s.food.amount, proteinShare: s.food.protein };
  const total = s.stock.reduce((sum, g) => sum + groupFood(g), 0);
  const protein = s.stock.reduce((sum, g) => sum + groupFood(g) * g.protein, 0);
  return total > 0 ? { gPerDay: total, proteinShare: protein / total } : null;
}

const groupFood = (g: Scenario["stock"][number]): number => g.food ?? FOOD_PER_MASS * g.count * g.mass;

function usualKind(water: Scenario["water"]): AnimalKind {
  if (water.salinity >= MARINE_FROM_G_PER_KG) return "marine fish";
  return water.temperature < 20 ? "cold-water fish" : "warm-water fish";
}

/**
 * @param fedFromStart whether no fishless cycle is run, so that food without a stock list means animals that the
 * scenario does not describe
 */
export function animalGroups(s: Scenario, fedFromStart: boolean, notes: Notes): readonly AnimalGroup[] {
  const kind = usualKind(s.water);
  if (s.stock.length === 0 && fedFromStart && s.food !== undefined) {
    const food =
      typeof s.food === "number" ? { amount: s.food, protein: USUAL_PROTEIN, uneaten: USUAL_UNEATEN, at: USUAL_HOURS } : s.food;
    const massG = food.amount / FOOD_PER_MASS;
    notes.or(undefined, "stock", null, format.mass(massG), `${COMMON}: animals that eat 2 % of their mass a day`);
    if (food.amount === 0) return [];
    return [
      {
        id: "animals",
        name: "animals",
        kind,
        count: 1,
        massG,
        foodGPerDay: food.amount,
        proteinShare: food.protein,
        uneatenShare: food.uneaten,
        feedingHours: food.at,
        arrivesDay: 0,
        leavesDay: null,
        growthPerDay: null,
      },
    ];
  }
  return s.stock.map((g, i): AnimalGroup => {
    const key = `stock[${i + 1}]`;
    const food = groupFood(g);
    return {
      id: g.name,
      name: g.name,
      kind: notes.or(g.kind, `${key}.kind`, kind, kind, "by salinity and temperature"),
      count: g.count,
      massG: g.mass,
      foodGPerDay: notes.or(g.food, `${key}.food`, food, `${format.plain(food)} g/day`, `${COMMON}: 2 % of their mass a day`),
      proteinShare: g.protein,
      uneatenShare: g.uneaten,
      feedingHours: [...g.at].sort((a, b) => a - b),
      arrivesDay: g.arrives,
      leavesDay: g.leaves ?? null,
      growthPerDay: notes.or(
        g.growth,
        `${key}.growth`,
        null,
        "not known",
        "such animals keep 17 % of the nitrogen they eat (Timmons & Ebeling, from memory); those that do not grow keep none",
      ),
    };
  });
}

/**
 * Nitrogen uptake of plants per square metre of tank [g N/(m² d)], ammonia first. Modelling assumption; for comparison,
 * tomatoes on fish water took up 0.43 to 0.52 (Graber & Junge 2009).
 */
const PLANT_UPTAKE = { none: 0, few: 0.02, many: 0.1, dense: 0.3 } as const;

export function plantsOf(s: Scenario, displays: readonly Display[], notes: Notes): Plants | null {
  if (s.plants === "none") return null;
  if (typeof s.plants === "object") return { uptakeGNPerDay: s.plants.uptake };
  const planM2 = displays.reduce((sum, d) => sum + d.lengthM * d.widthM, 0);
  const uptakeGNPerDay = PLANT_UPTAKE[s.plants] * planM2;
  return {
    uptakeGNPerDay: notes.or(undefined, "plants.uptake", uptakeGNPerDay, `${format.plain(uptakeGNPerDay, 2)} g N/day`, ASSUMED),
  };
}

/**
 * Inoculum for each word, as a share of the mature biomass. None: 1e-5 to 1e-3, from start-ups in which ammonia fell
 * near day 19 to 24 with a net growth rate of 0.3 to 0.5 per day (derived from published start-up courses). The others
 * are modelling assumptions with deliberately wide ranges.
 */
const SEEDS: Readonly<Record<Exclude<Scenario["seed"], object>, Inoculum>> = {
  none: { low: 1e-5, likely: 1e-4, high: 1e-3, where: "everywhere" },
  bottle: { low: 1e-5, likely: 1e-3, high: 3e-2, where: "everywhere" },
  gravel: { low: 1e-3, likely: 5e-3, high: 3e-2, where: "everywhere" },
  mature: { low: 0.7, likely: 1, high: 1, where: "everywhere" },
};

/** Salinity of the waters that a seed may come from [g/kg]. */
const ORIGIN_G_PER_KG = { fresh: 0, brackish: 15, salt: 35 } as const;

export function inoculumOf(s: Scenario, notes: Notes): Inoculum {
  if (typeof s.seed === "string") {
    const seed = SEEDS[s.seed];
    notes.or(
      undefined,
      "seed.share",
      seed,
      `${format.share(seed.likely)} (${format.share(seed.low)} to ${format.share(seed.high)})`,
      s.seed === "none" ? "derived from published start-up courses" : ASSUMED,
    );
    return seed;
  }
  const { where } = s.seed;
  const moved = s.seed.from !== undefined || s.seed.travelled !== undefined || s.seed.kept !== "wet";
  const { salinity, temperature } = s.water;
  const living = moved
    ? survivingShare(
        {
          salinityGPerKg: s.seed.from === undefined ? salinity : ORIGIN_G_PER_KG[s.seed.from],
          temperatureC: s.seed.temperature ?? temperature,
          hours: (s.seed.travelled ?? 0) / 3600,
          kept: s.seed.kept,
        },
        salinity,
      )
    : 1;
  if (moved)
    notes.or(
      undefined,
      "seed.living",
      living,
      format.share(living),
      "by the salinity it comes from and how it travelled (Kinyage & Pedersen 2019, Siegrist et al. 1999)",
    );
  const share = living * s.seed.share;
  const low = s.seed.low === undefined ? undefined : living * s.seed.low;
  const high = s.seed.high === undefined ? undefined : living * s.seed.high;
  return {
    low: notes.or(low, "seed.low", share / 2, format.share(share / 2), `${ASSUMED}: half of the share given`),
    likely: share,
    high: notes.or(
      high,
      "seed.high",
      Math.min(1, share * 1.5),
      format.share(Math.min(1, share * 1.5)),
      `${ASSUMED}: one and a half times the share given`,
    ),
    where,
    ...(living < 1 ? { deadPerLiving: 1 / living - 1 } : {}),
  };
}

/** Wetted surface of the tanks outside the filter [m²]. */
export function displaySurfaceM2(s: Scenario, displays: readonly Display[], notes: Notes): number {
  return displays.reduce((sum, d, i) => {
    const tank = s.tank[i]!;
    const floor = d.lengthM * d.widthM * (tank.gravel > 0 || (tank.rock ?? 1) > 0 ? 3 : 1);
    const usual = 2 * (d.lengthM + d.widthM) * d.heightM * 0.9 + floor;
    return (
      sum +
      notes.or(
        tank.surface,
        displays.length > 1 ? `tank[${i + 1}].surface` : "tank.surface",
        usual,
        format.area(usual),
        `${ASSUMED}: glass, and three times the floor for gravel and rock`,
      )
    );
  }, 0);
}

export function airStonePerDay(s: Scenario, display: Display, notes: Notes): number {
  const stone = s["air stone"];
  if (stone === "none") return 0;
  const kla = airStoneTransferPerDay(stone, display, s.water.temperature);
  return notes.or(
    undefined,
    "air stone.transfer",
    kla,
    `${format.plain(kla)} a day`,
    `${COMMON}: ${AIR_STONE_M3_PER_H[stone] * 1000} L/h of air, coarse bubbles`,
  );
}
