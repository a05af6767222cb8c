// Rigs that the hydraulic tests share. Invented tanks; dimensions in SI.

import type { Chamber, Display, Drain, Nozzle, Overflow, Rig } from "../../models/rig.ts";

export const NO_FITTINGS = { bends90: 0, bends45: 0, bends180: 0, tees: 0, unions: 0, extraK: 0 };

export const SUMP_BOTTOM_TO_DISPLAY = 0.9;

export function display(over: Partial<Display> & { overflows: readonly Overflow[] }): Display {
  return {
    id: "display",
    name: "the display",
    lengthM: 1.2,
    widthM: 0.5,
    heightM: 0.55,
    glassM: 0.01,
    wallMaterial: "glass",
    bottomZ: SUMP_BOTTOM_TO_DISPLAY,
    displacements: [],
    lid: "open",
    ...over,
  };
}

export function drain(over: Partial<Drain> = {}): Drain {
  return {
    id: "main",
    kind: "open",
    boreM: 0.04,
    inletM: 0.1,
    lengthM: 1.2,
    roughnessM: 1.5e-6,
    fittings: { ...NO_FITTINGS, bends90: 2 },
    openShare: 1,
    to: "sump",
    outletZ: 0.45,
    ...over,
  };
}

export function chamber(over: Partial<Chamber> = {}): Chamber {
  return { id: "sump", role: "return", lengthM: 0.675, displacements: [], submergedMedia: null, ...over };
}

export function nozzle(over: Partial<Nozzle> = {}): Nozzle {
  return { id: "nozzle", display: "display", boreM: 0.025, tipZ: 1.34, jet: "plain", breakHole: null, ...over };
}

/**
 * The common reference rig: display 1200 x 500 mm; weir crest 13 mm below the running surface; overflow box empties 5.4 L on
 * stopping; return bore 25 mm; nozzle tip 60 mm and a 4 mm hole 15 mm below the running surface; sump 400 mm wide and high, net
 * area 0.27 m2. Pump near 3000 L/h at its lift.
 */
export function rigR(runningLevelM = 0.22, holeOpen = true): Rig {
  const surface = 1.413;
  return {
    displays: [
      display({
        overflows: [
          {
            id: "overflow",
            kind: "drilled",
            crestZ: surface - 0.013,
            weirLengthM: 0.5,
            openShare: 0.6,
            box: { planAreaM2: 0.054, depthM: 0.4, floorZ: 1.0, runningLevelM: 0.2 },
            siphon: null,
            drains: [drain({ kind: "throttled siphon", boreM: 0.025, inletM: 0.1, lengthM: 0.9 })],
          },
        ],
      }),
    ],
    towers: [],
    sump: {
      lengthM: 0.675,
      widthM: 0.4,
      heightM: 0.4,
      glassM: 0.008,
      wallMaterial: "glass",
      chambers: [chamber()],
      baffles: [],
      runningLevelM,
    },
    return: {
      pump: { curve: [[0, 3.2], [0.001, 2.1], [0.0016, 0]], guessed: false, powerW: 45, intakeM: 0.09, idleK: 10 },
      riser: { boreM: 0.025, lengthM: 2.0, roughnessM: 1.5e-6, fittings: { ...NO_FITTINGS, bends90: 2, bends180: 1, unions: 1 } },
      valveOpenShare: 1,
      checkValve: "none",
      checkValveWeepM3PerS: 0,
      nozzles: [nozzle({ tipZ: surface - 0.06, breakHole: holeOpen ? { diameterM: 0.004, z: surface - 0.015, count: 1 } : null })],
      branches: [],
    },
    topOff: null,
    cabinet: null,
    room: { temperatureC: 21, relativeHumidity: 0.5, altitudeM: 0, co2Share: 0.0006 },
    waterTemperatureC: 25,
    salinityGPerKg: 0,
    evaporationM3PerS: null,
    stand: null,
  };
}
