// Flow through the cloth of a filter sock or of a fleece roller.

/** Cloth around a body of water, closed at its bottom. */
export interface Cloth {
  /** Velocity through it under a head of 1 m [1/s]. */
  readonly perS: number;
  readonly aroundM: number;
  readonly bottomM2: number;
  readonly bottomZ: number;
}

/**
 * Velocity through clean cloth under a head of 1 m of water [1/s], for mesh, felt of about 200 and of about 100 micrometres
 * (modelling assumption: a new felt bag of 0.4 m2 passes 20 m3/h under one to three hundredths of a bar, from memory of
 * filter bag charts; slime and dirt lower it by orders of magnitude).
 */
export const CLOTH_PER_S = { coarse: 2, medium: 0.5, fine: 0.15 } as const;

/**
 * Flow through cloth [m3/s], positive from inside to outside: Darcy's law at every height. Below the lower surface the
 * head is the difference of the levels; above it, the depth of the higher water.
 */
export function sockFlowM3PerS({ perS, aroundM, bottomM2, bottomZ }: Cloth, insideZ: number, outsideZ: number): number {
  const [high, low] = insideZ >= outsideZ ? [insideZ, outsideZ] : [outsideZ, insideZ];
  if (high <= bottomZ) return 0;
  const drowned = Math.max(0, low - bottomZ);
  const head = high - bottomZ - drowned;
  const flow = perS * (aroundM * head * (drowned + head / 2) + bottomM2 * head);
  return insideZ >= outsideZ ? flow : -flow;
}
