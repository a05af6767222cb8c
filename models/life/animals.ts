// Kinds of animals: which oxygen, temperature and ammonia limits hold for them, and how much they use beside bony fish.

export const animalKinds = [
  "warm-water fish",
  "cold-water fish",
  "marine fish",
  "invertebrate",
  "crustacean",
  "mollusc",
  "cephalopod",
] as const;
/** `invertebrate` is any of which no more is known: its rates are those of fish, which is rather too much. */
export type AnimalKind = (typeof animalKinds)[number];

/**
 * Oxygen use, and nitrogen given off from own tissue, over those of bony fish of the same mass and temperature. Squid of 21 g in a swim tunnel at 14 °C
 * used 1.5 to 1.7 times the highest rate of fish here (measured by B. Burford, in Harianto et al. 2019), which is 2.4 times the likely rate of active fish. Decapod
 * crustaceans of 5 to 10 g at 25 °C use 200 to 350 mg/(kg h), about the resting rate of fish: half of the active one; snails and bivalves with their
 * shells 20 to 60 mg/(kg h) at 20 °C (both from memory). Nitrogen follows oxygen: both groups live on protein, as carnivorous fish do (modelling
 * assumption).
 */
export const USE_OVER_FISH: Readonly<Record<AnimalKind, number>> = {
  "warm-water fish": 1,
  "cold-water fish": 1,
  "marine fish": 1,
  invertebrate: 1,
  crustacean: 0.5,
  mollusc: 0.15,
  cephalopod: 2.4,
};
