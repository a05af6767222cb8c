// The guilds of bacteria on surfaces. Each step of nitrification has a fast guild that needs high concentrations and a
// slow one with a high affinity. The fast ones dominate a start-up; the slow ones keep a mature tank near zero.

export const guilds = ["aob", "sao", "nob", "sno", "het"] as const;
export type Guild = (typeof guilds)[number];

export const ammoniaOxidisers = ["aob", "sao"] as const satisfies readonly Guild[];
export const nitriteOxidisers = ["nob", "sno"] as const satisfies readonly Guild[];
export const nitrifiers = [...ammoniaOxidisers, ...nitriteOxidisers] as const;

export const names: Readonly<Record<Guild, string>> = {
  aob: "fast ammonia oxidisers",
  sao: "slow ammonia oxidisers",
  nob: "fast nitrite oxidisers",
  sno: "slow nitrite oxidisers",
  het: "heterotrophs",
};

/** Areal biomass of one film, by guild [g COD/m2]. */
export type Stock = Readonly<Record<Guild, number>>;

/** Values for the guilds that oxidise ammonia and for those that oxidise nitrite. */
export const ofEachStep = (ammonia: number, nitrite: number): Record<(typeof nitrifiers)[number], number> =>
  Object.fromEntries(
    nitrifiers.map((guild) => [guild, (ammoniaOxidisers as readonly Guild[]).includes(guild) ? ammonia : nitrite]),
  ) as Record<(typeof nitrifiers)[number], number>;

/** One value per guild. */
export const eachGuild = <T>(value: (guild: Guild) => T): Record<Guild, T> =>
  Object.fromEntries(guilds.map((guild) => [guild, value(guild)])) as Record<Guild, T>;
