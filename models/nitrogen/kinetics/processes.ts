// The process matrix: one row per process, with its rate as a product of terms and its stoichiometry completed by conservation.
import { close, content, HETEROTROPH_YIELD, type Stoichiometry, type Substance } from "./composition.ts";
import { type Guild, names, nitrifiers } from "./guilds.ts";
import type { ParameterValues } from "./parameters.ts";

/** Variables on which a rate may depend: a substance at that place, or a quantity derived from them. */
export type Variable =
  | Exclude<Substance, "n2" | "nh3air" | "co2air" | "plant" | "foam" | "reserve">
  | "ph"
  | "co2"
  | "freeAmmonia"
  | "nitrousAcid"
  | "ammoniaOxidisers"
  | "nitriteOxidisers";

/** A factor of a rate; `of` is the one variable on which it depends. */
export type Term =
  | { readonly kind: "linear"; readonly of: Variable }
  | { readonly kind: "monod"; readonly of: Variable; readonly half: number }
  | { readonly kind: "inhibition"; readonly of: Variable; readonly half: number }
  /** base + (1 - base) S/(half + S) */
  | { readonly kind: "slowed"; readonly of: Variable; readonly half: number; readonly base: number }
  /** Bell curve with two half points (form of Henze et al. 2000): 1/(1 + 10^(low - pH) + 10^(pH - high)) */
  | { readonly kind: "ph bell"; readonly of: "ph"; readonly low: number; readonly high: number }
  /** (X/full)^3 */
  | { readonly kind: "crowding"; readonly of: Variable; readonly full: number }
  /** (1 - share X/(half + X))^-3: space limitation by a cover, with the same exponent as the crowding term */
  | { readonly kind: "covered"; readonly of: Variable; readonly half: number; readonly share: number };

/**
 * The limitation inside the film that applies to this process: a substrate together with oxygen, or (anoxic) the share
 * without oxygen.
 */
export type Depth = "tan" | "no2" | "ss" | "anoxic";
export type Energy = "aob" | "nob" | "decay" | "het" | "none";

export interface Process {
  readonly id: string;
  readonly label: string;
  readonly place: "cell" | "film";
  /** Rate at 20 °C in fresh water before the terms [1/d; or g/m³/d where the place determines it]. */
  readonly rate: number;
  /** Name of the coefficient by which the place multiplies the rate (gas exchange, animals, plants). */
  readonly coefficient?: "co2Transfer" | "nh3Transfer" | "respiration" | "plantUptake" | "settling" | "skimming";
  readonly terms: readonly Term[];
  readonly stoichiometry: Stoichiometry;
  readonly depth?: Depth;
  readonly energy: Energy;
  /** Guild of nitrifiers, whose activity medicines reduce. */
  readonly guild?: "aob" | "nob";
  /** Effect of sea water on adapted nitrifiers: on all their rates, or on their space as well. */
  readonly salt?: "pace" | "pace and room";
  readonly source: string;
}

const linear = (of: Variable): Term => ({ kind: "linear", of });
const monod = (of: Variable, half: number): Term => ({ kind: "monod", of, half });
const inhibition = (of: Variable, half: number): Term => ({ kind: "inhibition", of, half });

/**
 * The whole matrix for a set of parameters. Every row conserves nitrogen, oxygen demand, charge and carbon (a test
 * covers all rows).
 */
export function processes(p: ParameterValues): readonly Process[] {
  const all = [
    ["nitrogen", "tan"],
    ["oxygenDemand", "o2"],
    ["charge", "alk"],
    ["carbon", "dic"],
  ] as const;
  const withoutOxygen = [
    ["nitrogen", "tan"],
    ["charge", "alk"],
    ["carbon", "dic"],
  ] as const;
  const nitrifierPh: readonly Term[] = [{ kind: "ph bell", of: "ph", low: p.phLow, high: p.phHigh }, monod("alk", p.halfAlk)];
  const ammoniaOxidation = (x: "aob" | "sao", what: string, rate: number, half: number, yieldCod: number): Process => ({
    id: `${x} growth`,
    label: `${names[x]}: ${what}`,
    place: "film",
    rate,
    energy: "aob",
    guild: "aob",
    salt: "pace",
    depth: "tan",
    terms: [
      linear(x),
      monod("tan", half),
      monod("o2", p.aobHalfO2),
      ...nitrifierPh,
      inhibition("freeAmmonia", p.faInhibitsAob),
      inhibition("nitrousAcid", p.fnaInhibitsAob),
    ],
    stoichiometry: close({ [x]: 1, no2: 1 / yieldCod }, all),
    source:
      x === "aob"
        ? "two-step Monod form, Hiatt & Grady (2008), Sin et al. (2008)"
        : "same form; second guild after surveys of mature aquarium filters (Bagchi et al. 2014)",
  });
  const ageing = (): Term => ({ kind: "slowed", of: "o2", half: 0.2, base: p.anoxicDecay });
  const nitriteOxidation = (x: "nob" | "sno", what: string, rate: number, half: number): Process => ({
    id: `${x} growth`,
    label: `${names[x]}: ${what}`,
    place: "film",
    rate,
    energy: "nob",
    guild: "nob",
    salt: "pace",
    depth: "no2",
    terms: [
      linear(x),
      monod("no2", half),
      monod("o2", p.nobHalfO2),
      ...nitrifierPh,
      inhibition("freeAmmonia", p.faInhibitsNob),
      inhibition("nitrousAcid", p.fnaInhibitsNob),
    ],
    // Assimilated N comes from the oxidised nitrite, because the row has no ammonia term.
    stoichiometry: close({ [x]: 1, no3: 1 / p.nobYield }, [
      ["nitrogen", "no2"],
      ["oxygenDemand", "o2"],
      ["charge", "alk"],
      ["carbon", "dic"],
    ]),
    source:
      x === "nob"
        ? "two-step Monod form, Hiatt & Grady (2008), Sin et al. (2008)"
        : "same form; fast growers need much nitrite and slow ones thrive on little (Nowka et al. 2015, from memory)",
  });
  /** Starved cells become dormant: with almost none of the guild's substrate, only the dormant decay rate remains. */
  const dormancy = (of: "tan" | "no2"): Term => ({ kind: "slowed", of, half: p.dormantHalf, base: p.dormantDecay });
  const decay = (x: Guild, rate: number, energy: Energy): Process => ({
    id: `${x} decay`,
    label: `${names[x]} starve and die`,
    place: "film",
    rate,
    energy,
    ...(x === "het" ? {} : { salt: "pace" as const }),
    terms: [linear(x), ageing(), ...(x === "het" ? [] : [dormancy(x === "aob" || x === "sao" ? "tan" : "no2")])],
    stoichiometry: close({ [x]: -1, xs: 1 }, withoutOxygen),
    source:
      x === "het"
        ? "death-regeneration, Henze et al. (2000); without oxygen slower, Siegrist et al. (1999)"
        : "death-regeneration, Henze et al. (2000); without oxygen slower, Siegrist et al. (1999); starved slower (modelling assumption, see b_dormant)",
  });
  const slough = (x: Guild): Process => ({
    id: `${x} sloughing`,
    label: `${names[x]} wash off`,
    place: "film",
    rate: p.sloughing * (x === "het" ? 1 : 1 - p.resettling),
    energy: "none",
    terms: [linear(x)],
    stoichiometry: close({ [x]: -1, xs: 1 }, withoutOxygen),
    source: "first order in the film (modelling assumption)",
  });
  const crowd = (x: Guild, of: Variable, full: number, rate: number, energy: Energy): Process => ({
    id: `${x} crowded off`,
    label: `${names[x]} lose their place in a full film`,
    place: "film",
    rate,
    energy,
    ...(x === "het" ? {} : { salt: "pace and room" as const }),
    terms: [
      linear(x),
      { kind: "crowding", of, full },
      ...(x === "het" ? [] : [{ kind: "covered", of: "het", half: p.hetCoverHalf, share: p.hetCoverShare } as const]),
    ],
    stoichiometry: close({ [x]: -1, xs: 1 }, withoutOxygen),
    source:
      x === "het"
        ? "loss grows with the cube of the stock and equals growth at the full stock (modelling assumption)"
        : "competition for space: loss grows with the cube of the stock over the room left, and equals net growth where that is full; heterotrophs, who grow faster and outside, take part of the room (order after Wanner & Gujer 1986; form a modelling assumption, set on Nijhof & Bovendeur 1990 and Michaud et al. 2006)",
  });
  // One step of denitrification in two places: below the depth that oxygen reaches, and anywhere in water without oxygen.
  const denitrification = (from: "no3" | "no2", to: "no2" | "n2", share: number, half: number): readonly Process[] => {
    const what = from === "no3" ? "nitrate to nitrite" : "nitrite to nitrogen gas";
    const step = {
      place: "film",
      rate: p.hetGrowth * share,
      energy: "het",
      stoichiometry: anoxicRow(p.anoxicYield, from, to),
    } as const;
    const terms = [linear("het"), monod("ss", p.hetHalfSs), monod(from, half)];
    return [
      {
        ...step,
        id: `${from} reduction in the film`,
        label: `heterotrophs where no oxygen reaches: ${what}`,
        depth: "anoxic",
        terms,
        source: "growth on nitrate and nitrite, Hiatt & Grady (2008), in two steps",
      },
      {
        ...step,
        id: `${from} reduction in oxygen-free water`,
        label: `heterotrophs in oxygen-free water: ${what}`,
        terms: [...terms, inhibition("o2", p.hetHalfO2)],
        source: "Hiatt & Grady (2008), in two steps; switch K_O/(K_O + O2), Henze et al. (2000)",
      },
    ];
  };
  return [
    ammoniaOxidation("aob", "ammonia to nitrite", p.aobGrowth, p.aobHalfTan, p.aobYield),
    ammoniaOxidation("sao", "ammonia to nitrite at low level", p.saoGrowth, p.saoHalfTan, p.saoYield),
    nitriteOxidation("nob", "nitrite to nitrate", p.nobGrowth, p.nobHalfNo2),
    nitriteOxidation("sno", "nitrite to nitrate at low level", p.snoGrowth, p.snoHalfNo2),
    {
      id: "het growth",
      label: "heterotrophs on surfaces eat organics",
      place: "film",
      rate: p.hetGrowth,
      energy: "het",
      depth: "ss",
      terms: [linear("het"), monod("ss", p.hetHalfSs), monod("o2", p.hetHalfO2)],
      stoichiometry: close({ het: 1, ss: -1 / HETEROTROPH_YIELD }, all),
      source: "Henze et al. (2000)",
    },
    ...denitrification("no3", "no2", p.anoxicShareNo3, p.hetHalfNo3),
    ...denitrification("no2", "n2", p.anoxicShareNo2, p.hetHalfNo2),
    decay("aob", p.aobDecay, "decay"),
    decay("sao", p.saoDecay, "decay"),
    decay("nob", p.nobDecay, "decay"),
    decay("sno", p.snoDecay, "decay"),
    decay("het", p.hetDecay, "het"),
    slough("aob"),
    slough("sao"),
    slough("nob"),
    slough("sno"),
    slough("het"),
    crowd("aob", "ammoniaOxidisers", p.fullAob, p.aobGrowth - p.aobDecay, "aob"),
    // The two guilds of a step share one film, so crowding removes both at one rate: the faster grower wins where
    // ammonia is abundant.
    crowd("sao", "ammoniaOxidisers", p.fullAob, p.aobGrowth - p.aobDecay, "aob"),
    crowd("nob", "nitriteOxidisers", p.fullNob, p.nobGrowth - p.nobDecay, "nob"),
    crowd("sno", "nitriteOxidisers", p.fullNob, p.nobGrowth - p.nobDecay, "nob"),
    crowd("het", "het", p.fullHet, p.hetGrowth, "het"),
    ...nitrifiers.map(
      (x): Process => ({
        id: `${x} arrival`,
        label: `stray ${names[x]} settle`,
        place: "film",
        rate: p.arrival,
        energy: "none",
        terms: [monod("xs", 0.01)],
        stoichiometry: close({ xs: -1, [x]: 1 }, withoutOxygen),
        source: "cells that come with food, dust and detritus keep every guild from dying out (modelling assumption)",
      }),
    ),
    {
      id: "hydrolysis",
      label: "suspended waste dissolves",
      place: "cell",
      rate: p.hydrolysis,
      energy: "het",
      terms: [linear("xs")],
      stoichiometry: close({ xs: -1, ss: 1 }, withoutOxygen),
      source: "first order (modelling assumption)",
    },
    {
      id: "deposit hydrolysis",
      label: "settled waste dissolves",
      place: "cell",
      rate: p.hydrolysis,
      energy: "het",
      terms: [linear("xd")],
      stoichiometry: close({ xd: -1, ss: 1 }, withoutOxygen),
      source: "first order (modelling assumption)",
    },
    {
      id: "settling",
      label: "suspended waste settles",
      place: "cell",
      rate: 1,
      coefficient: "settling",
      energy: "none",
      terms: [linear("xs")],
      stoichiometry: { xs: -1, xd: 1 },
      source: "settling velocity over depth (modelling assumption)",
    },
    {
      id: "skimming",
      label: "a foam fractionator lifts suspended waste out",
      place: "cell",
      rate: 1,
      coefficient: "skimming",
      energy: "none",
      terms: [linear("xs")],
      stoichiometry: { xs: -1, foam: 1 },
      source: "share of the solids in the flow through it (the scenario's figure)",
    },
    {
      id: "free growth",
      label: "free heterotrophs cloud the water",
      place: "cell",
      rate: p.hetGrowth,
      energy: "het",
      terms: [linear("xh"), monod("ss", p.hetHalfSs), monod("o2", p.hetHalfO2)],
      stoichiometry: close({ xh: 1, ss: -1 / HETEROTROPH_YIELD }, all),
      source: "Henze et al. (2000)",
    },
    {
      id: "free loss",
      label: "free heterotrophs are grazed or settle",
      place: "cell",
      rate: p.floatLoss,
      energy: "het",
      terms: [linear("xh")],
      stoichiometry: close({ xh: -1, xd: 1 }, withoutOxygen),
      source: "modelling assumption",
    },
    {
      id: "co2 escape",
      label: "carbon dioxide leaves to the air",
      place: "cell",
      rate: 1,
      coefficient: "co2Transfer",
      energy: "none",
      terms: [linear("co2")],
      stoichiometry: { dic: -1, co2air: 1 },
      source: "two-film theory, Lewis & Whitman (1924)",
    },
    {
      id: "nh3 escape",
      label: "ammonia gas leaves to the air",
      place: "cell",
      rate: 1,
      coefficient: "nh3Transfer",
      energy: "none",
      terms: [linear("freeAmmonia")],
      stoichiometry: close({ tan: -1, nh3air: 1 }, [["charge", "alk"]]),
      source: "two-film theory, Lewis & Whitman (1924)",
    },
    {
      id: "respiration",
      label: "animals breathe",
      place: "cell",
      rate: 1,
      coefficient: "respiration",
      energy: "none",
      terms: [monod("o2", p.fishHalfO2)],
      stoichiometry: close({ reserve: -1 }, [
        ["oxygenDemand", "o2"],
        ["carbon", "dic"],
      ]),
      source: "respiratory quotient 1; Clarke & Johnston (1999) sets the rate",
    },
    {
      id: "plant ammonia",
      label: "plants take up ammonia",
      place: "cell",
      rate: 1,
      coefficient: "plantUptake",
      energy: "none",
      terms: [monod("tan", p.plantHalfTan)],
      stoichiometry: close({ tan: -1, plant: 1 }, all.slice(1)),
      source: "ammonia first (Graber & Junge 2009 for the size)",
    },
    {
      id: "plant nitrate",
      label: "plants take up nitrate",
      place: "cell",
      rate: 1,
      coefficient: "plantUptake",
      energy: "none",
      terms: [monod("no3", p.plantHalfNo3), inhibition("tan", p.plantHalfTan)],
      stoichiometry: close({ no3: -1, plant: 1 }, all.slice(1)),
      source: "nitrate when ammonia is scarce",
    },
  ];
}

/**
 * Growth on nitrate or nitrite, which is reduced to nitrite or nitrogen gas by the electrons that growth does not
 * retain; the difference in N goes to ammonia.
 */
function anoxicRow(yieldCod: number, from: "no3" | "no2", to: "no2" | "n2"): Stoichiometry {
  const perN = (content[to].oxygenDemand ?? 0) - (content[from].oxygenDemand ?? 0);
  const reduced = (1 / yieldCod - 1) / perN;
  return close({ het: 1, ss: -1 / yieldCod, [from]: -reduced, [to]: reduced }, [
    ["nitrogen", "tan"],
    ["charge", "alk"],
    ["carbon", "dic"],
  ]);
}
