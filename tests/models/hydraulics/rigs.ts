// Shared rigs of the hydraulic tests. Invented tanks in SI units; inches and US gallons of the case descriptions are
// converted here.

import type { Chamber, Display, Drain, Nozzle, Overflow, ReturnLine, Rig } from "../../../models/rig.ts";

export const INCH_M = 0.0254;
export const GALLON_M3 = 0.003785411784;
export const GPH = GALLON_M3 / 3600;
export const NO_FITTINGS = { bends90: 0, bends45: 0, bends180: 0, tees: 0, unions: 0, extraK: 0 };
const SMOOTH_M = 1.5e-6;

/** A pump with this flow at about this head: shut-off head 1.6 times, free flow 1.5 times. */
export const pumpNear = (flow: number, head: number): [number, number][] => [
  [0, 1.6 * head],
  [flow, head],
  [1.5 * flow, 0.05 * head],
];

export function display(over: Partial<Display> & { overflows: readonly Overflow[] }): Display {
  return {
    id: "display",
    name: "the display",
    lengthM: 1.2,
    widthM: 0.5,
    heightM: 0.55,
    glassM: 0.01,
    wallMaterial: "glass",
    bottomZ: 0.7,
    displacements: [],
    lid: "open",
    ...over,
  };
}

export function drain(over: Partial<Drain> = {}): Drain {
  return {
    id: "main",
    kind: "throttled siphon",
    boreM: 0.025,
    inletM: 0.1,
    lengthM: 0.65,
    roughnessM: SMOOTH_M,
    fittings: NO_FITTINGS,
    openShare: 1,
    to: "sump",
    outletZ: 0.45,
    ...over,
  };
}

/** An overflow whose box contains `emptiesM3` more while running than at rest. */
export function overflow(over: Partial<Overflow> & { crestZ: number }, emptiesM3: number): Overflow {
  return {
    id: "overflow",
    kind: "drilled",
    weirLengthM: 0.5,
    openShare: 0.6,
    box: { planAreaM2: emptiesM3 / 0.1, depthM: 0.35, floorZ: over.crestZ - 0.35, inside: false, runningLevelM: 0.2 },
    siphon: null,
    drains: [drain()],
    leak: null,
    ...over,
  };
}

export function chamber(over: Partial<Chamber> = {}): Chamber {
  return { id: "sump", role: "return", lengthM: 0.675, displacements: [], submergedMedia: null, sock: null, ...over };
}

export function nozzle(over: Partial<Nozzle> & { tipZ: number }): Nozzle {
  return { id: "nozzle", display: "display", boreM: 0.025, jet: "plain", breakHole: null, openShare: 1, branch: null, ...over };
}

export function returnLine(over: Partial<ReturnLine> & { nozzles: readonly Nozzle[] }): ReturnLine {
  return {
    name: "",
    backupS: 0,
    circuit: "mains",
    pump: { curve: pumpNear(8.1e-4, 1.62), guessed: false, powerW: 45, intakeM: 0.09, idleK: 10, timer: null },
    riser: { boreM: 0.025, lengthM: 1.95, roughnessM: SMOOTH_M, fittings: { ...NO_FITTINGS, bends90: 2, unions: 1 } },
    valveOpenShare: 1,
    checkValve: "none",
    checkValveWeepM3PerS: 0,
    branches: [],
    ...over,
  };
}

export function rig(parts: Pick<Rig, "displays" | "return"> & Partial<Rig> & { sump: Rig["sump"] }): Rig {
  return {
    moreReturns: [],
    towers: [],
    closedFilters: [],
    topOff: null,
    cabinet: null,
    room: { temperatureC: 21, relativeHumidity: 0.5, altitudeM: 0, co2Share: 0.0006 },
    waterTemperatureC: 25,
    salinityGPerKg: 0,
    evaporationM3PerS: null,
    stand: null,
    ...parts,
  };
}

export function oneSump(lengthM: number, widthM: number, heightM: number, runningLevelM: number): Rig["sump"] {
  return {
    lengthM,
    widthM,
    heightM,
    glassM: 0.008,
    wallMaterial: "glass",
    chambers: [chamber({ lengthM })],
    joined: [],
    baffles: [],
    runningLevelM,
  };
}

/**
 * The common reference rig: display 1200 x 500 mm; weir crest 13 mm below the running surface; overflow box empties 5.4 L on
 * stopping; pipes about 1.1 L; return bore 25 mm; nozzle tip 60 mm and a 4 mm hole 15 mm below the running surface; sump 400 mm wide and
 * high, net area 0.27 m2.
 */
export function rigR(runningLevelM = 0.22): Rig {
  const surface = 1.2;
  return rig({
    displays: [display({ overflows: [overflow({ crestZ: surface - 0.013 }, 0.0054)] })],
    sump: oneSump(0.675, 0.4, 0.4, runningLevelM),
    return: returnLine({
      nozzles: [nozzle({ tipZ: surface - 0.06, breakHole: { diameterM: 0.004, z: surface - 0.015, count: 1 } })],
    }),
  });
}

/**
 * HY-5: 48 x 18 in display, outlet 8 in deep without a hole, sump 30 x 12 x 12 in run at 7 in, weir 0.5 in, box 1.5 US
 * gal.
 */
export function handFilled75(checkValve: ReturnLine["checkValve"]): Rig {
  const surface = 1.25;
  return rig({
    displays: [
      display({
        lengthM: 48 * INCH_M,
        widthM: 18 * INCH_M,
        bottomZ: 0.8,
        heightM: 0.5,
        overflows: [overflow({ crestZ: surface - 0.5 * INCH_M }, 1.5 * GALLON_M3)],
      }),
    ],
    sump: oneSump(30 * INCH_M, 12 * INCH_M, 12 * INCH_M, 7 * INCH_M),
    return: returnLine({
      pump: { curve: pumpNear(7.7e-4, 2.2), guessed: false, powerW: 45, intakeM: 0.06, idleK: 10, timer: null },
      riser: { boreM: 0.02, lengthM: 1.3, roughnessM: SMOOTH_M, fittings: NO_FITTINGS },
      checkValve,
      checkValveWeepM3PerS: (0.1 * GALLON_M3) / 60,
      nozzles: [nozzle({ boreM: 0.02, tipZ: surface - 8 * INCH_M })],
    }),
  });
}

/** HY-6: 48 x 18 in display with 1.5 in of headroom; pump 1200 gph, one vented 1 in drain of about 600 gph. */
export function strongPump90(gallonsAboveIntake: number): Rig {
  const crest = 1.3;
  const surface = crest + 0.012;
  const area = 30 * 12 * INCH_M * INCH_M;
  const box = { planAreaM2: 0.004, depthM: 0.185, floorZ: crest - 0.185, inside: false, runningLevelM: 0.18 };
  const drains = [drain({ kind: "open", boreM: 0.0254, inletM: 0.02, lengthM: 0.8 })];
  return rig({
    displays: [
      display({
        lengthM: 48 * INCH_M,
        widthM: 18 * INCH_M,
        bottomZ: 0.9,
        heightM: surface + 1.5 * INCH_M - 0.9,
        overflows: [overflow({ crestZ: crest, weirLengthM: 1, openShare: 1, box, drains }, 0)],
      }),
    ],
    sump: oneSump(30 * INCH_M, 12 * INCH_M, 16 * INCH_M, 0.09 + (gallonsAboveIntake * GALLON_M3) / area),
    return: returnLine({
      pump: { curve: pumpNear(1200 * GPH, 1.75), guessed: false, powerW: 80, intakeM: 0.09, idleK: 10, timer: null },
      riser: { boreM: 0.032, lengthM: 1.4, roughnessM: SMOOTH_M, fittings: NO_FITTINGS },
      nozzles: [nozzle({ boreM: 0.032, tipZ: surface - 0.04, breakHole: { diameterM: 0.008, z: surface - 0.015, count: 1 } })],
    }),
  });
}

/**
 * HY-7: 48 x 13 in display with 1 in of headroom over its weir, hang-on siphon box, 400 gph, 6 US gal over the intake at
 * rest.
 */
export function hangOn55(reservoirGallons: number): Rig {
  const crest = 1.2;
  const runningLevelM = 0.171;
  return rig({
    displays: [
      display({
        lengthM: 48 * INCH_M,
        widthM: 13 * INCH_M,
        bottomZ: 0.75,
        heightM: crest + INCH_M - 0.75,
        overflows: [
          {
            id: "overflow",
            leak: null,
            kind: "hang-on",
            crestZ: crest,
            weirLengthM: 0.3,
            openShare: 1,
            box: { planAreaM2: 0.008, depthM: 0.28, floorZ: crest - 0.25, inside: false, runningLevelM: null },
            siphon: {
              count: 1,
              boreM: 0.025,
              lengthM: 0.5,
              crownZ: crest + 0.1,
              inletZ: crest - 0.15,
              outletZ: crest - 0.15,
              startsPrimed: true,
            },
            drains: [drain({ kind: "open", boreM: 0.04, inletM: 0.16, lengthM: 0.6, outletZ: 0.5 })],
          },
        ],
      }),
    ],
    sump: oneSump(30 * INCH_M, 12 * INCH_M, 16 * INCH_M, runningLevelM),
    return: returnLine({
      // It begins to draw air at 97 mm and is dry at 87 mm: the 6 US gal of the description are above the middle of that
      // range.
      pump: { curve: pumpNear(400 * GPH, 1.2), guessed: false, powerW: 30, intakeM: 0.097, idleK: 10, timer: null },
      riser: { boreM: 0.02, lengthM: 1.3, roughnessM: SMOOTH_M, fittings: NO_FITTINGS },
      nozzles: [nozzle({ boreM: 0.02, tipZ: crest - 0.02, breakHole: { diameterM: 0.006, z: crest + 0.002, count: 2 } })],
    }),
    topOff:
      reservoirGallons > 0
        ? {
            reservoirM3: reservoirGallons * GALLON_M3,
            pumpM3PerS: 3e-5,
            onBelowM: runningLevelM - 0.03,
            offAboveM: runningLevelM + 0.005,
            salinityGPerKg: 0,
          }
        : null,
  });
}

/** HY-9: 400 L, 6 L a day evaporate, return chamber 400 x 250 mm run at 220 mm, pump needs 90 mm. */
export function holiday(reservoirM3: number): Rig {
  const base = rigR(0.22);
  return {
    ...base,
    sump: {
      ...base.sump,
      lengthM: 0.675,
      chambers: [chamber({ id: "inlet", role: "inlet", lengthM: 0.425 }), chamber({ id: "return", lengthM: 0.25 })],
      joined: [],
      baffles: [{ kind: "over", topM: 0.25, gapM: 0 }],
    },
    displays: base.displays.map((one) => ({
      ...one,
      overflows: one.overflows.map((over) => ({
        ...over,
        box: { ...over.box, planAreaM2: 0.02, runningLevelM: null },
        drains: [drain({ kind: "open", boreM: 0.04, to: "inlet" })],
      })),
    })),
    evaporationM3PerS: 0.006 / 86400,
    topOff: reservoirM3 > 0 ? { reservoirM3, pumpM3PerS: 1e-5, onBelowM: 0.215, offAboveM: 0.22, salinityGPerKg: 0 } : null,
  };
}

/**
 * HY-12: net sump area 0.27 m2; the level of the upstream chambers is 250 mm behind their baffles, the return chamber
 * (0.10 m2) runs at 180 mm.
 */
export function threeChambers(): Rig {
  const base = rigR(0.18);
  const surface = 1.2;
  const headOverBaffle = 0.0107;
  return {
    ...base,
    displays: [display({ overflows: [overflow({ crestZ: surface - 0.013, drains: [drain({ to: "inlet" })] }, 0.0087)] })],
    sump: {
      ...base.sump,
      chambers: [
        chamber({ id: "inlet", role: "inlet", lengthM: 0.2125 }),
        chamber({ id: "middle", role: "heater", lengthM: 0.2125 }),
        chamber({ id: "return", lengthM: 0.25 }),
      ],
      joined: [],
      baffles: [
        { kind: "over", topM: 0.25 - headOverBaffle, gapM: 0 },
        { kind: "over", topM: 0.25 - headOverBaffle, gapM: 0 },
      ],
    },
  };
}

/** HY-13: four 36 x 16 in tanks on one sump of 36 x 18 x 16 in run at 8 in; nozzles 5 in deep, holes 3/4 in deep. */
export function fourTanks(): Rig {
  const surface = 1.3;
  const ids = ["a", "b", "c", "d"];
  return rig({
    displays: ids.map((id) =>
      display({
        id: `tank ${id}`,
        name: `tank ${id}`,
        lengthM: 36 * INCH_M,
        widthM: 16 * INCH_M,
        bottomZ: 1.0,
        heightM: 0.4,
        overflows: [
          overflow(
            {
              id: `overflow ${id}`,
              crestZ: surface - 0.013,
              box: { planAreaM2: 0.004, depthM: 0.2, floorZ: surface - 0.213, inside: false, runningLevelM: 0.15 },
              drains: [drain({ id: `drain ${id}`, boreM: 0.032, inletM: 0.1, lengthM: 0.85 })],
            },
            0,
          ),
        ],
      }),
    ),
    sump: oneSump(36 * INCH_M, 18 * INCH_M, 16 * INCH_M, 8 * INCH_M),
    return: returnLine({
      pump: { curve: pumpNear(4 * 8.0e-4, 2.02), guessed: false, powerW: 120, intakeM: 0.09, idleK: 10, timer: null },
      riser: { boreM: 0.04, lengthM: 6, roughnessM: SMOOTH_M, fittings: NO_FITTINGS },
      nozzles: ids.map((id) =>
        nozzle({
          id: `nozzle ${id}`,
          display: `tank ${id}`,
          boreM: 0.02,
          tipZ: surface - 5 * INCH_M,
          breakHole: { diameterM: 0.006, z: surface - 0.75 * INCH_M, count: 2 },
        }),
      ),
    }),
  });
}

/** HY-14: 48 x 13 in display, outlet 6 in deep, no hole, no valve, 8 US gal free in the sump. */
export function hoseOff55(): Rig {
  const surface = 1.25;
  const area = 30 * 12 * INCH_M * INCH_M;
  return rig({
    displays: [
      display({
        lengthM: 48 * INCH_M,
        widthM: 13 * INCH_M,
        bottomZ: 0.8,
        heightM: 0.5,
        overflows: [
          overflow(
            {
              crestZ: surface - 0.012,
              box: { planAreaM2: 0.004, depthM: 0.3, floorZ: surface - 0.312, inside: false, runningLevelM: 0.2 },
              drains: [drain({ lengthM: 0.55 })],
            },
            0,
          ),
        ],
      }),
    ],
    sump: oneSump(30 * INCH_M, 12 * INCH_M, 12 * INCH_M, 12 * INCH_M - (8 * GALLON_M3) / area),
    return: returnLine({
      pump: { curve: pumpNear(7.0e-4, 2.1), guessed: false, powerW: 45, intakeM: 0.06, idleK: 10, timer: null },
      riser: { boreM: 0.02, lengthM: 1.3, roughnessM: SMOOTH_M, fittings: NO_FITTINGS },
      nozzles: [nozzle({ boreM: 0.02, tipZ: surface - 6 * INCH_M })],
    }),
  });
}

/** HY-15: a tower in the sump, grate at 200 mm, media to 500 mm. */
export function towerOverSump(): Rig {
  const base = rigR(0.19);
  return {
    ...base,
    displays: base.displays.map((one) => ({
      ...one,
      bottomZ: one.bottomZ + 0.2,
      overflows: one.overflows.map((over) => ({
        ...over,
        crestZ: over.crestZ + 0.2,
        box: { ...over.box, floorZ: over.box.floorZ + 0.2 },
        drains: [drain({ to: "tower", outletZ: 0.62 })],
      })),
    })),
    towers: [
      {
        id: "tower",
        lengthM: 0.25,
        widthM: 0.25,
        mediaDepthM: 0.3,
        grateZ: 0.2,
        media: { kind: "balls", specificSurfaceM2PerM3: 160, voidShare: 0.92, pieceM: 0.035 },
        distribution: "drip plate",
        wettedShare: null,
        arm: null,
        prefilter: null,
        tray: { depthM: 0.06, holes: 80, holeDiameterM: 0.006, spillsTo: "past the media" },
        lid: "open",
        airFlowM3PerS: 0,
        drainsTo: "sump",
      },
    ],
    sump: oneSump(0.28, 0.4, 0.45, 0.185),
    return: returnLine({
      pump: { curve: pumpNear(8.1e-4, 1.85), guessed: false, powerW: 45, intakeM: 0.09, idleK: 10, timer: null },
      nozzles: base.return.nozzles.map((one) => ({
        ...one,
        tipZ: one.tipZ + 0.2,
        breakHole: one.breakHole && { ...one.breakHole, z: one.breakHole.z + 0.2 },
      })),
    }),
  };
}

/**
 * HY-11, HY-16: 2500 L/h; main standpipe of about 3000 L/h, a dry emergency pipe 20 mm above the running level; the weir
 * is drowned.
 */
export function twoDrains(): Rig {
  const base = rigR(0.2);
  const crest = 1.18;
  const box = { planAreaM2: 0.03, depthM: 0.3, floorZ: crest - 0.2, inside: false, runningLevelM: null };
  const pipe = { boreM: 0.05, lengthM: 0.75, kind: "open" } as const;
  return {
    ...base,
    displays: [
      display({
        heightM: 0.6,
        overflows: [
          overflow(
            {
              crestZ: crest,
              box,
              drains: [
                drain({ ...pipe, inletM: 0.2 }),
                drain({ ...pipe, id: "emergency", kind: "dry emergency", inletM: 0.2415 }),
              ],
            },
            0,
          ),
        ],
      }),
    ],
    return: returnLine({
      pump: { curve: pumpNear(2.5 / 3600, 1.45), guessed: false, powerW: 40, intakeM: 0.09, idleK: 10, timer: null },
      nozzles: [nozzle({ tipZ: crest + 0.022 - 0.06, breakHole: { diameterM: 0.006, z: crest + 0.022 - 0.015, count: 1 } })],
    }),
  };
}
