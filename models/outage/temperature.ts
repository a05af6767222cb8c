// Temperature during an outage: display, stagnant sump and drained tower each cool, or are heated, separately.

import { GaveUpError } from "../../sim/integrators/outcome.ts";
import type { StiffProblem } from "../../sim/integrators/problem.ts";
import { StiffSolver } from "../../sim/integrators/stiff.ts";
import { SECONDS_PER_HOUR } from "../../sim/time.ts";
import type { Exchange } from "../coupling/exchange.ts";
import { type HeatNetwork, temperatureJacobian, temperatureRates } from "../heat/balance.ts";
import type { AnimalKind } from "../nitrogen/management.ts";
import type { OutageHeat } from "../nitrogen/operation/outage-heat.ts";
import { densityKgPerM3, specificHeatJPerKgK } from "../water/density.ts";
import { freezingC } from "../water/freezing.ts";
import { type AtRest, type Clock, type Cut, cellOf, firstCrossingH, HORIZON_H, rangeH, roomDuring, type Words } from "./cut.ts";
import { BARE, heaterChamber, restingHeatNetwork, runningHeatNetwork, type Wrapping } from "./resting-heat.ts";

/** Interval of the samples of a curve [h]. */
export const CURVE_STEP_H = 0.25;
/** Simulated time of warming up [h]. */
const WARMING_H = 48;
/**
 * Uncertainty of the heat loss of a tank on its stand: a factor of 1.4 either way (modelling assumption: draughts, rim,
 * cabinet, rock).
 */
export const HEAT_LOSS_FACTOR = 1.4;

/** Temperatures of all cells, sampled every CURVE_STEP_H; `at` interpolates linearly and holds the last value beyond the end. */
export interface TemperatureCurve {
  readonly stepH: number;
  /** [sample][cell], in °C. */
  readonly samples: readonly Float64Array[];
  at(hours: number): readonly number[];
}

/**
 * Integrates a heat network from given temperatures. Water at its freezing point stays at it: freezing releases eighty
 * times as much heat as cooling by one kelvin (334 kJ/kg; ice itself is not modelled).
 * @param startC starting temperature of each cell, in the order of the network's cells
 * @param freezesAtC freezing point of the water [°C]; by default that of fresh water
 * @throws GaveUpError when the integrator gives up
 */
export function temperatureCurve(
  network: HeatNetwork,
  startC: readonly number[],
  hours: number,
  freezesAtC = 0,
): TemperatureCurve {
  const stepH = CURVE_STEP_H;
  const solver = new StiffSolver(heatProblem(network), { tolerances: { relative: 1e-6, absolute: 1e-4 } });
  const count = Math.max(1, Math.ceil(hours / stepH));
  const y = Float64Array.from(startC);
  const samples = [Float64Array.from(y)];
  const outcome = solver.advance(0, count * stepH * SECONDS_PER_HOUR, y, (step) => {
    while (samples.length <= count && samples.length * stepH * SECONDS_PER_HOUR <= step.t1) {
      const sample = new Float64Array(y.length);
      step.at(samples.length * stepH * SECONDS_PER_HOUR, sample);
      samples.push(sample);
    }
    return undefined;
  });
  if (outcome.status === "failed") throw new GaveUpError("the temperatures in the power cut could not be computed", outcome);
  while (samples.length <= count) samples.push(Float64Array.from(y));
  for (const sample of samples) for (let c = 0; c < sample.length; c++) sample[c] = Math.max(sample[c], freezesAtC);
  return {
    stepH,
    samples,
    at(h) {
      const x = Math.min(Math.max(h / stepH, 0), samples.length - 1);
      const i = Math.min(Math.floor(x), samples.length - 2);
      return Array.from(samples[i], (left, c) => left + (x - i) * (samples[i + 1][c] - left));
    },
  };
}

/** A heat network as a stiff problem with a full Jacobian; time in seconds, state in °C. */
function heatProblem(network: HeatNetwork): StiffProblem {
  const size = network.cells.length;
  return {
    size,
    pattern: {
      size,
      rowStart: Int32Array.from({ length: size + 1 }, (_, i) => i * size),
      columns: Int32Array.from({ length: size * size }, (_, i) => i % size),
    },
    derivative: (_t, y, out) => temperatureRates(network, y, out),
    jacobian: (_t, y, values) => temperatureJacobian(network, y, values),
  };
}

/**
 * Temperatures during an outage that begins with all water at the set-point (or at `startC`).
 * @throws GaveUpError when the integrator gives up
 */
export function cutTemperatures(rest: AtRest, cut: Cut, hours: number, startC?: readonly number[]): TemperatureCurve {
  const from = startC ?? rest.cells.map(() => rest.management.temperatureC);
  return temperatureCurve(restingHeatNetwork(rest, cut), from, hours, freezingC(rest.rig.salinityGPerKg));
}

/** Callbacks for the nitrogen simulation: how the cells cool during an outage, and how they warm up after the restart. */
export function outageHeat(rest: AtRest, running: Exchange): OutageHeat {
  const keptAt = (setpointC: number): AtRest => ({ ...rest, management: { ...rest.management, temperatureC: setpointC } });
  return {
    cooling: (cut, startC, setpointC) => cutTemperatures(keptAt(setpointC), cut, cut.hours, startC),
    warming: (startC, setpointC) =>
      temperatureCurve(runningHeatNetwork(keptAt(setpointC), running), startC, WARMING_H, freezingC(rest.rig.salinityGPerKg)),
  };
}

/** Limits of the temperature clock [°C]. */
export interface TemperatureLimits {
  readonly amberLowC: number;
  readonly redLowC: number;
  readonly amberHighC: number;
  readonly redHighC: number;
}

const TROPICAL: TemperatureLimits = { amberLowC: 20, redLowC: 18, amberHighC: 30, redHighC: 32 };

/**
 * Common practice, no published source: most tropical stock is kept at 23-28 °C and shows distress outside 18-32 °C;
 * hardy and delicate species differ by several degrees.
 */
export const TEMPERATURE_LIMITS_C: Readonly<Record<AnimalKind, TemperatureLimits>> = {
  "warm-water fish": TROPICAL,
  "marine fish": TROPICAL,
  invertebrate: TROPICAL,
  "cold-water fish": { amberLowC: 4, redLowC: 2, amberHighC: 22, redHighC: 25 },
};

/**
 * Animals are acclimatised to the temperature at which they are kept: a limit is never closer to it than 3 K (amber) or
 * 5 K (red) (modelling assumption).
 */
export function limitsFor(kind: AnimalKind, keptAtC: number): TemperatureLimits {
  const limits = TEMPERATURE_LIMITS_C[kind];
  return {
    amberLowC: Math.min(limits.amberLowC, keptAtC - 3),
    redLowC: Math.min(limits.redLowC, keptAtC - 5),
    amberHighC: Math.max(limits.amberHighC, keptAtC + 3),
    redHighC: Math.max(limits.redHighC, keptAtC + 5),
  };
}

/** When the first display leaves the range of its animals, with heat losses 1.4 times higher or lower than computed. */
export function temperatureClock(rest: AtRest, cut: Cut, kinds: readonly AnimalKind[], wrapping: Wrapping = BARE): Clock {
  const startC = rest.management.temperatureC;
  const displays = rest.cells.flatMap((cell, c) => (cell.kind === "display" ? [c] : []));
  const limits = kinds.map((kind) => limitsFor(kind, startC));
  const curves = [HEAT_LOSS_FACTOR, 1 / HEAT_LOSS_FACTOR].map((factor) =>
    temperatureCurve(
      restingHeatNetwork(rest, cut, wrapping, factor),
      rest.cells.map(() => startC),
      HORIZON_H,
      freezingC(rest.rig.salinityGPerKg),
    ),
  );
  const first = (curve: TemperatureCurve, low: keyof TemperatureLimits, high: keyof TemperatureLimits): number | null => {
    const times = displays.flatMap((c) => {
      const values = curve.samples.map((sample) => sample[c]);
      return limits.flatMap((limit) => [
        firstCrossingH(curve.stepH, values, limit[low], -1),
        firstCrossingH(curve.stepH, values, limit[high], 1),
      ]);
    });
    return times.reduce((best, t) => (t !== null && (best === null || t < best) ? t : best), null);
  };
  const [fast, slow] = curves;
  const afterDay = [fast, slow].map((curve) => Math.min(...displays.map((c) => curve.at(24)[c])));
  const room = roomDuring(rest.rig, cut).temperatureC;
  return {
    id: "temperature",
    name: "Temperature of the display",
    amberH: rangeH(first(fast, "amberLowC", "amberHighC"), first(slow, "amberLowC", "amberHighC")),
    redH: rangeH(first(fast, "redLowC", "redHighC"), first(slow, "redLowC", "redHighC")),
    why: [
      "From ",
      { is: "temperature", value: startC },
      ", in a room of ",
      { is: "temperature", value: room },
      ", the tank comes to between ",
      { is: "temperature", value: Math.min(...afterDay) },
      " and ",
      { is: "temperature", value: Math.max(...afterDay) },
      " in a day.",
    ],
    source:
      "walls by EN ISO 6946, evaporation by Carrier (1918)/ASHRAE with the undisturbed-surface factor of Smith, Löf & Jones (1998); limits: common practice, no published source",
  };
}

/** Heating rate of stagnant water, without losses [K/h]. */
export function stagnantHeatingKPerH(heaterW: number, volumeM3: number, temperatureC: number, salinityGPerKg: number): number {
  const heat = volumeM3 * densityKgPerM3(temperatureC, salinityGPerKg) * specificHeatJPerKgK(temperatureC, salinityGPerKg);
  return (heaterW * SECONDS_PER_HOUR) / heat;
}

/** A rise that shows how fast it is [K]. */
const TELLING_RISE_K = 5;

/** Words for a heater left on in a sump that does not flow; null when it has no power or there is none. */
export function stagnantHeaterWarning(rest: AtRest, cut: Cut): Words | null {
  const { heaterW, temperatureC } = rest.management;
  if (cut.everythingOff || heaterW <= 0) return null;
  const chamber = rest.rig.sump.chambers[heaterChamber(rest.rig.sump)];
  const volume = rest.volumesM3[cellOf(rest, "chamber", chamber.id)];
  const rate = stagnantHeatingKPerH(heaterW, volume, temperatureC, rest.rig.salinityGPerKg);
  const minutes = Math.max(1, Math.round((60 * TELLING_RISE_K) / rate));
  return [
    "The heater stands in ",
    { is: "volume", value: volume },
    ` of water that does not flow. Within ${minutes === 1 ? "a minute" : `${minutes} minutes`} it can warm it from `,
    { is: "temperature", value: temperatureC },
    " to ",
    { is: "temperature", value: temperatureC + TELLING_RISE_K },
    ", if its thermostat does not stop it, while the tank cools.",
  ];
}
