// Every biological number once: value, unit, range, meaning, source. Rates at 20 °C.

export interface Parameter {
  readonly value: number;
  readonly unit: string;
  readonly min: number;
  readonly max: number;
  /** Ends with the field's symbol. */
  readonly meaning: string;
  readonly source: string;
}

const p = (value: number, unit: string, min: number, max: number, meaning: string, source: string): Parameter => ({
  value,
  unit,
  min,
  max,
  meaning,
  source,
});

export const parameters = {
  aobGrowth: p(
    0.75,
    "1/d",
    0.5,
    1.0,
    "growth of fast ammonia oxidisers, µ_AOB",
    "between Hiatt & Grady (2008) 0.78, Solis et al. (2022) 0.61 and Sin et al. (2008) 0.5-2.1",
  ),
  aobDecay: p(0.1, "1/d", 0.07, 0.3, "decay of fast ammonia oxidisers, b_AOB", "Sin et al. (2008), Hiatt & Grady (2008) 0.096"),
  aobYield: p(0.15, "g COD/g N", 0.11, 0.21, "yield of fast ammonia oxidisers, Y_AOB", "Sin et al. (2008)"),
  aobHalfTan: p(0.4, "g N/m3", 0.1, 1.0, "half-saturation of fast ammonia oxidisers for TAN, K_NH", "Sin et al. (2008)"),
  aobHalfO2: p(
    0.5,
    "g/m3",
    0.1,
    1.45,
    "half-saturation of ammonia oxidisers for oxygen, K_O,AOB",
    "Hiatt & Grady (2008) 0.6; Sin et al. (2008) range",
  ),
  cmxGrowth: p(
    0.27,
    "1/d",
    0.15,
    0.5,
    "growth of slow, high-affinity ammonia oxidisers, µ_SAO",
    "set, not measured: so that a settled colony can take 1.6 to 2 times what it gets, as keepers see when food is doubled or tripled; complete oxidisers and archaea double in days (Kits et al. 2017, from memory)",
  ),
  cmxDecay: p(
    0.1,
    "1/d",
    0.03,
    0.2,
    "decay of slow ammonia oxidisers, b_SAO",
    "taken equal to the fast guild (modelling assumption)",
  ),
  cmxYield: p(
    0.1,
    "g COD/g N",
    0.05,
    0.3,
    "yield of slow ammonia oxidisers, Y_SAO",
    "complete oxidiser about 0.4 g protein/mol NH3 (Kits et al. 2017, from memory), 0.07 at 55 % protein and 1.42 g COD/g; rounded up (modelling assumption)",
  ),
  cmxHalfTan: p(
    0.03,
    "g N/m3",
    0.005,
    0.1,
    "half-saturation of slow ammonia oxidisers for TAN, K_NH,SAO",
    "Kim et al. (2025) 4.0 µM = 0.056; Kits et al. (2017) about 1 µM (from memory)",
  ),
  nobGrowth: p(
    0.6,
    "1/d",
    0.4,
    0.9,
    "growth of nitrite oxidisers, µ_NOB",
    "Solis et al. (2022) 0.61; Kim et al. (2025) 0.62; between Sin et al. (2008) 0.5 and Hiatt & Grady (2008) 0.78",
  ),
  nobDecay: p(0.12, "1/d", 0.08, 0.2, "decay of nitrite oxidisers, b_NOB", "Sin et al. (2008), centre of 0.08-0.2"),
  nobYield: p(0.05, "g COD/g N", 0.03, 0.09, "yield of nitrite oxidisers, Y_NOB", "Sin et al. (2008)"),
  nobHalfNo2: p(
    0.12,
    "g N/m3",
    0.08,
    1.0,
    "half-saturation of nitrite oxidisers, K_NO2",
    "Nitrospira 0.08-0.14 (Ushiki et al. 2017); sludge values of 0.1-3 (Sin et al. 2008) would leave a mature tank readable nitrite",
  ),
  nobHalfO2: p(
    1.0,
    "g/m3",
    0.3,
    1.5,
    "half-saturation of nitrite oxidisers for oxygen, K_O,NOB",
    "Hiatt & Grady (2008) 1.2; Sin et al. (2008) 0.3-1.5",
  ),
  aobEnergy: p(68, "kJ/mol", 60, 75, "activation energy of ammonia oxidisers, E_AOB", "Vannecke & Volcke (2015)"),
  nobEnergy: p(44, "kJ/mol", 38, 50, "activation energy of nitrite oxidisers, E_NOB", "Vannecke & Volcke (2015)"),
  decayEnergy: p(
    42,
    "kJ/mol",
    20,
    68,
    "activation energy of the decay of nitrifiers, E_b",
    "0.082, 0.11, 0.15 1/d at 15, 20, 25 °C, Rittmann & McCarty (from memory); θ 1.029 (20 kJ/mol) in the UCT model; growth's 68 as the upper end",
  ),
  hetEnergy: p(
    50,
    "kJ/mol",
    40,
    60,
    "activation energy of heterotrophs and hydrolysis, E_H",
    "θ about 1.07, Henze et al. (2000) (from memory)",
  ),
  hetGrowth: p(6, "1/d", 3, 13, "growth of heterotrophs, µ_H", "Henze et al. (2000) ASM2d (from memory)"),
  hetDecay: p(0.4, "1/d", 0.2, 0.62, "decay of heterotrophs, b_H", "Henze et al. (2000) ASM2d 0.4 (from memory)"),
  hetHalfSs: p(
    4,
    "g COD/m3",
    2,
    20,
    "half-saturation of heterotrophs for organics, K_S",
    "Henze et al. (2000) ASM2d 4 (from memory)",
  ),
  hetHalfO2: p(0.2, "g/m3", 0.1, 0.5, "half-saturation of heterotrophs for oxygen, K_O,H", "Henze et al. (2000) (from memory)"),
  anoxicYield: p(
    0.54,
    "g COD/g COD",
    0.4,
    0.63,
    "heterotroph yield on nitrate, Y_H,anoxic",
    "Henze et al. (2000) ASM3 (from memory)",
  ),
  anoxicShare: p(0.6, "-", 0.3, 0.8, "heterotroph activity without oxygen, η_g", "Henze et al. (2000) 0.6-0.8 (from memory)"),
  hetHalfNo3: p(0.5, "g N/m3", 0.1, 1, "half-saturation for nitrate, K_NO3", "Henze et al. (2000) (from memory)"),
  hydrolysis: p(
    0.2,
    "1/d",
    0.05,
    0.5,
    "hydrolysis of faeces, food and dead cells, k_h",
    "no measured source for aquarium solids: modelling assumption",
  ),
  floatLoss: p(1.0, "1/d", 0.2, 3, "free bacteria grazed or settled", "modelling assumption"),
  sloughing: p(
    0.02,
    "1/d",
    0.005,
    0.05,
    "film lost steadily, k_det",
    "modelling assumption; firm attachment of nitrifiers takes about 20 d (WST 34(1-2):83, 1996)",
  ),
  fullAmo: p(
    0.185,
    "g COD/m2",
    0.05,
    0.25,
    "full areal stock of ammonia oxidisers on a surface free of others, X_full",
    "set so that a settled film under fish water, with its heterotrophs, takes the zero-order 0.69 g TAN/m2/d at 24 °C in fresh water of Nijhof & Bovendeur (1990)",
  ),
  fullNob: p(
    0.108,
    "g COD/m2",
    0.02,
    0.15,
    "full areal stock of nitrite oxidisers on a surface free of others",
    "set so that a settled film under fish water takes 0.83 g NO2-N/m2/d at 24 °C: 0.69 of ammonia (Nijhof & Bovendeur 1990) times 0.12/0.10 (Kinyage & Pedersen 2019)",
  ),
  fullHet: p(
    8,
    "g COD/m2",
    2,
    15,
    "full areal stock of heterotrophs",
    "about 10 g dry film/m2 at the largest rate (WST 34(1-2):83, 1996)",
  ),
  hetCoverShare: p(
    0.6,
    "-",
    0.4,
    0.9,
    "share of the nitrifiers' room that a closed cover of heterotrophs takes",
    "set with the half cover on Michaud et al. (2006): a third less at C/N 0.5, half at more",
  ),
  hetCoverHalf: p(
    0.5,
    "g COD/m2",
    0.1,
    3,
    "heterotrophs that make half a cover",
    "set on Michaud et al. (2006); about 20 µm of film at 25 kg COD/m3",
  ),
  resettling: p(0.1, "-", 0, 0.3, "share of sloughed nitrifiers that lands on a surface again", "modelling assumption"),
  arrival: p(
    3e-7,
    "g COD/m2/d",
    1e-8,
    1e-5,
    "stray nitrifiers of each guild that settle",
    "modelling assumption: a few millionths of a full colony a day; more would start an unseeded tank earlier than Day et al. (2021) saw",
  ),
  anoxicDecay: p(
    0.15,
    "-",
    0.05,
    0.3,
    "decay without oxygen relative to decay with it",
    "Siegrist et al. (1999): 0.03 against 0.2 1/d",
  ),
  fnaInhibitsAob: p(
    0.17,
    "g N/m3",
    0.1,
    2.8,
    "nitrous acid that halves ammonia oxidation, K_I,FNA,AOB",
    "Park & Bae (2009); Hiatt & Grady (2008) 0.1",
  ),
  faInhibitsNob: p(0.64, "g N/m3", 0.1, 10, "free ammonia that halves nitrite oxidation, K_I,FA,NOB", "Park & Bae (2009)"),
  fnaInhibitsNob: p(
    0.05,
    "g N/m3",
    0.024,
    0.2,
    "nitrous acid that halves nitrite oxidation, K_I,FNA,NOB",
    "Park & Bae (2009) 0.024-0.095",
  ),
  halfAlk: p(
    0.1,
    "eq/m3",
    0.02,
    0.5,
    "half-saturation of nitrifiers for alkalinity, K_ALK",
    "modelling assumption; ASM2d prints 0.5 as a stand-in for pH, which this model computes",
  ),
  phLow: p(
    6.5,
    "pH",
    6,
    7,
    "pH at which nitrification is halved on the acid side",
    "modelling assumption after UCT's 2.35^(pH-7.2) and practice (near stop at 6 to 6.5)",
  ),
  phHigh: p(9.5, "pH", 9, 10, "pH at which nitrification is halved on the alkaline side", "UCT form: 1.13 (9.5 - pH)/(9.8 - pH)"),
  saltRate: p(
    0.5,
    "-",
    0.3,
    1,
    "pace of life of nitrifiers adapted to sea water relative to fresh",
    "set so that a settled film takes 0.28 g TAN/m2/d in sea water at 24 °C, 0.41 of fresh (Nijhof & Bovendeur 1990); on growth and decay alike (modelling assumption)",
  ),
  plantHalfTan: p(0.05, "g N/m3", 0.01, 0.2, "half-saturation of plants for TAN", "modelling assumption"),
  plantHalfNo3: p(0.5, "g N/m3", 0.1, 2, "half-saturation of plants for nitrate", "modelling assumption"),
  fishHalfO2: p(
    0.5,
    "g/m3",
    0.1,
    2,
    "oxygen at which animals take up half of what they want",
    "modelling assumption (keeps oxygen from going negative)",
  ),
} as const satisfies Record<string, Parameter>;

export type ParameterId = keyof typeof parameters;
export type ParameterValues = Readonly<Record<ParameterId, number>>;

/** Default values, with any changed by the caller. */
export function parameterValues(changes: Partial<Record<ParameterId, number>> = {}): ParameterValues {
  const values = Object.fromEntries(Object.entries(parameters).map(([id, { value }]) => [id, value])) as Record<
    ParameterId,
    number
  >;
  return Object.freeze({ ...values, ...changes });
}
