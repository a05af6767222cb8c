// An invented result with plausible numbers, for view tests that need no simulation. It is not the output of a model.
import type { Rig } from "../../models/rig.ts";
import type { OutageTrace, RunResult } from "../../scenarios/result/result.ts";
import { RESULT_FORMAT, RESULT_VERSION } from "../../scenarios/result/result.ts";

const fittings = { bends90: 2, bends45: 0, bends180: 0, tees: 0, unions: 1, extraK: 0 };

export const fixtureRig: Rig = {
  displays: [
    {
      id: "display",
      name: "Display",
      lengthM: 1.2,
      widthM: 0.5,
      heightM: 0.55,
      glassM: 0.01,
      wallMaterial: "glass",
      bottomZ: 0.88,
      displacements: [{ fromM: 0, toM: 0.2, areaM2: 0.08 }],
      lid: "open",
      overflows: [
        {
          id: "overflow",
          kind: "drilled",
          crestZ: 1.38,
          weirLengthM: 0.5,
          openShare: 0.6,
          box: { planAreaM2: 0.03, depthM: 0.5, floorZ: 0.88, inside: true, runningLevelM: null },
          siphon: null,
          leak: null,
          drains: [
            {
              id: "drain",
              kind: "open",
              boreM: 0.032,
              inletM: 0.34,
              lengthM: 1.1,
              roughnessM: 1e-5,
              fittings,
              openShare: 1,
              to: "tower",
              outletZ: 0.72,
            },
          ],
        },
      ],
    },
  ],
  towers: [
    {
      id: "tower",
      lengthM: 0.26,
      widthM: 0.3,
      mediaDepthM: 0.28,
      grateZ: 0.3,
      media: { kind: "plastic balls", specificSurfaceM2PerM3: 160, voidShare: 0.9, pieceM: 0.038 },
      distribution: "drip plate",
      wettedShare: null,
      arm: null,
      prefilter: { grade: "medium", areaM2: 0.07, thicknessM: 0.03, blindedShare: 0.1, spillsTo: "past the media" },
      tray: { depthM: 0.04, holes: 120, holeDiameterM: 0.004, spillsTo: "past the media" },
      lid: "vented",
      airFlowM3PerS: 0,
      drainsTo: "inlet",
    },
  ],
  sump: {
    lengthM: 0.75,
    widthM: 0.4,
    heightM: 0.4,
    glassM: 0.008,
    wallMaterial: "glass",
    chambers: [
      { id: "inlet", role: "inlet", lengthM: 0.3, displacements: [], submergedMedia: null, sock: null },
      {
        id: "heater",
        role: "heater",
        lengthM: 0.14,
        displacements: [],
        submergedMedia: { kind: "foam", volumeM3: 0.006, specificSurfaceM2PerM3: 400, voidShare: 0.95 },
        sock: null,
      },
      { id: "return", role: "return", lengthM: 0.296, displacements: [], submergedMedia: null, sock: null },
    ],
    joined: [],
    baffles: [
      { kind: "over", topM: 0.26, gapM: 0 },
      { kind: "under", topM: 0.36, gapM: 0.04 },
    ],
    runningLevelM: 0.22,
  },
  moreReturns: [],
  return: {
    name: "",
    backupS: 0,
    circuit: "mains",
    pump: {
      curve: [
        [0, 3],
        [0.0014, 0],
      ],
      guessed: true,
      powerW: 40,
      intakeM: 0.09,
      idleK: 6,
      timer: null,
    },
    riser: { boreM: 0.025, lengthM: 1.9, roughnessM: 1e-5, fittings },
    valveOpenShare: 1,
    checkValve: "none",
    checkValveWeepM3PerS: 0,
    nozzles: [
      {
        id: "nozzle",
        display: "display",
        boreM: 0.02,
        tipZ: 1.333,
        jet: "fanned",
        breakHole: { diameterM: 0.004, z: 1.378, count: 1 },
        openShare: 1,
        branch: null,
      },
    ],
    branches: [],
  },
  closedFilters: [],
  topOff: { reservoirM3: 0.018, pumpM3PerS: 2e-5, onBelowM: 0.21, offAboveM: 0.22, salinityGPerKg: 0 },
  cabinet: { lengthM: 1.18, widthM: 0.48, heightM: 0.8, doorWidthM: 0.55, doorHeightM: 0.75 },
  room: { temperatureC: 21, relativeHumidity: 0.5, altitudeM: 100, co2Share: 6e-4 },
  waterTemperatureC: 25,
  salinityGPerKg: 0,
  evaporationM3PerS: null,
  stand: { footprintM2: 0.6, dryMassKg: 60 },
};

const ease = (t: number, t0: number, tau: number): number => (t <= t0 ? 0 : 1 - Math.exp(-(t - t0) / tau));

function fixtureStory(id: string, title: string, faults: readonly string[], dropM: number, riseM: number): OutageTrace {
  const timeS: number[] = [];
  for (let t = -30; t <= 420; t += 3) timeS.push(t + 30);
  const off = (t: number): number => ease(t, 30, 22) * (1 - ease(t, 240, 9));
  const run = 1.393;
  const display = timeS.map(
    (t) => run - dropM * off(t) + 0.004 * Math.sin(Math.max(0, t - 240) / 30) * ease(t, 240, 9) * Math.exp(-(t - 240) / 60),
  );
  const sump = timeS.map((t) => 0.22 + riseM * off(t) - 0.03 * ease(t, 240, 6) * Math.exp(-Math.max(0, t - 240) / 25));
  const rim = 0.4;
  const floorM3 = Math.max(0, 0.22 + riseM - rim) * 0.27;
  const capped = sump.map((z) => Math.min(rim, z));
  const on = timeS.map((t) => (t < 30 || t > 243 ? 1 : Math.max(0, t < 30 ? 1 : Math.exp(-(t - 30) / 4))));
  const back = timeS.map((t) => (t >= 30 && t < 240 ? -0.6 * Math.exp(-(t - 30) / 20) : t < 30 ? 1 : ease(t, 240, 4)));
  const q = 8e-4;
  const vessel = (v: string, partOf: string, kind: string, bottomZ: number, rimZ: number, levelZ: readonly number[]) => ({
    id: v,
    name: v,
    kind,
    partOf,
    bottomZ,
    rimZ,
    levelZ,
  });
  return {
    id,
    title,
    faults,
    verdict: floorM3 > 0 ? "FLOODS" : rim - 0.22 - riseM < 0.025 ? "TIGHT" : "HOLDS",
    marginM: Math.max(0, rim - 0.22 - riseM),
    floorM3,
    timeS,
    vessels: [
      vessel("display:display", "display", "display", 0.88, 1.43, display),
      vessel(
        "box:overflow",
        "overflow",
        "box",
        0.88,
        1.38,
        timeS.map((_, i) => 1.22 + 0.02 * (on[i] ?? 0)),
      ),
      vessel(
        "tray:tower",
        "tower",
        "tray",
        0.628,
        0.668,
        timeS.map((_, i) => 0.628 + 0.02 * (on[i] ?? 0)),
      ),
      vessel(
        "chamber:inlet",
        "inlet",
        "chamber",
        0,
        rim,
        timeS.map((_, i) => Math.max(0.262, capped[i] ?? 0)),
      ),
      vessel("chamber:heater", "heater", "chamber", 0, rim, capped),
      vessel("chamber:return", "return", "chamber", 0, rim, capped),
      vessel(
        "reservoir",
        "",
        "reservoir",
        0,
        0.34,
        timeS.map(() => 0.2),
      ),
    ],
    flows: [
      { id: "weir:overflow", label: "weir", from: "display:display", to: "box:overflow", m3PerS: on.map((s) => s * q) },
      { id: "out of drain", label: "drain", from: "box:overflow", to: "tray:tower", m3PerS: on.map((s) => s * q) },
      { id: "rain:tower", label: "tower", from: "tray:tower", to: "chamber:inlet", m3PerS: on.map((s) => s * q) },
      { id: "baffle:0", label: "over baffle", from: "chamber:inlet", to: "chamber:heater", m3PerS: on.map((s) => s * q) },
      { id: "baffle:1", label: "under baffle", from: "chamber:heater", to: "chamber:return", m3PerS: on.map((s) => s * q) },
      { id: "out of nozzle", label: "return", from: "chamber:return", to: "display:display", m3PerS: back.map((s) => s * q) },
    ],
    events: [
      { s: 30, id: "cut", label: "power goes" },
      { s: 58, id: "air", label: faults.length === 0 ? "siphon-break hole takes air" : "nozzle takes air" },
      { s: 112, id: "rest", label: "at rest" },
      { s: 240, id: "restart", label: "power returns" },
      { s: 268, id: "weir", label: "display passes its weir again" },
      { s: 360, id: "steady", label: "steady" },
    ],
  };
}

const bump = (t: number, start: number, peak: number, height: number, fall: number): number =>
  t < start
    ? 0
    : t < peak
      ? height * Math.sin(((t - start) / (peak - start)) * (Math.PI / 2))
      : height / (1 + Math.exp((t - peak - fall) / (fall / 5)));

export function fixtureResult(name = "A 180 L tank before its first fish", shiftDays = 0): RunResult {
  const timeDays = Array.from({ length: 221 }, (_, i) => i / 4);
  const curves: Record<string, (t: number, shift: number) => number> = {
    "display/tan": (t, s) =>
      Math.max(0, 2.47 * (t < 0.5 ? t * 2 : 1) * (1 / (1 + Math.exp((t - 15 - s) / 2)))) +
      (t > 22 + s ? 0.8 * Math.exp(-((t - s) % 3) * 3) : 0),
    "display/no2": (t, s) => bump(t, 6 + s, 22 + s, 6.4, 9),
    "display/no3": (t, s) => 22 / (1 + Math.exp(-(t - 27 - s) / 4)),
  };
  const simple: [string, string, string, string, (t: number) => number][] = [
    ["display/do", "Oxygen", "mg/L", "oxygen", (t) => 7.4 - 0.5 * Math.exp(-(((t - 20) / 12) ** 2)) + 0.05 * Math.sin(t * 6.28)],
    ["display/ph", "pH", "", "ph", (t) => 7.8 - 0.4 / (1 + Math.exp(-(t - 22) / 5))],
    ["display/alk", "Alkalinity", "meq/L", "alkalinity", (t) => 2.86 - 1.5 / (1 + Math.exp(-(t - 22) / 5))],
    ["display/temp", "Temperature", "°C", "temperature", (t) => 27 + 0.2 * Math.sin(t * 6.28)],
    ["tower/aob", "Ammonia oxidisers", "g COD/m²", "biomass", (t) => 1.2 / (1 + 300 * Math.exp(-t / 3.2))],
    ["tower/nob", "Nitrite oxidisers", "g COD/m²", "biomass", (t) => 0.7 / (1 + 900 * Math.exp(-t / 4.4))],
  ];
  const row = (f: (t: number, s: number) => number, s: number): number[] => timeDays.map((t) => f(t, s + shiftDays));
  const species: [string, string, string][] = [
    ["display/tan", "TAN", "tan"],
    ["display/no2", "NO2-N", "no2"],
    ["display/no3", "NO3-N", "no3"],
  ];
  return {
    format: RESULT_FORMAT,
    version: RESULT_VERSION,
    file: "cycle-180.yaml",
    name,
    question: "When is this new tank ready, and for how much food?",
    source: "sumpwright: 1\nname: A 180 L tank before its first fish\n# <b>not markup</b>\n",
    units: "metric",
    kit: {
      ammonia: "NH3",
      nitrite: "NO2",
      nitrate: "NO3",
      steps: { ammonia: [0, 0.25, 0.5, 1, 2, 4, 8], nitrite: [0, 0.25, 0.5, 1, 2, 5], nitrate: [0, 5, 10, 20, 40, 80, 160] },
      ceilings: { ammonia: 8, nitrite: 5, nitrate: 160 },
    },
    seed: "42",
    rig: fixtureRig,
    inputs: {
      tapPh: 7.6,
      tapAlkalinityEqPerM3: 2.9,
      foodGPerDay: 2,
      firstGroup: { count: 12, foodGPerDay: 1.5 },
      cutHours: 4,
    },
    firm: null,
    answer: {
      question: "When can the animals go in, and does the water stay off the floor?",
      sentences: [{ text: "Ready between day 29 and day 44, likely day 35, for up to 7.7 g of food a day." }],
      lead: [
        {
          job: "ready",
          level: "info",
          word: "READY",
          text: "Ready between day 29 and day 44, likely day 35, for up to 7.7 g of food a day.",
          findings: ["ready"],
          show: { series: ["tan", "no2"] },
        },
        {
          job: "power cut",
          level: "info",
          word: "HOLDS",
          text: "When the power goes, the water stays in the sump with 123 mm (4 13/16 in) to spare.",
          findings: ["cut"],
          show: { story: "plain" },
        },
      ],
      groups: { doNow: ["flood"], watch: ["nitrite"], know: ["ready", "cut"] },
    },
    findings: [
      {
        id: "flood",
        topic: "power cut",
        level: "alarm",
        consequence: "loss",
        likelihood: "planned",
        word: "FLOODS",
        text: "With the siphon-break hole blocked and the sump filled to 330 mm, 24 L (6.3 US gal) go on the floor.",
        value: 24,
        unit: "L",
        advice: "Run it no higher than the 218 mm mark.",
      },
      {
        id: "nitrite",
        topic: "water",
        level: "watch",
        consequence: "harm",
        likelihood: "planned",
        word: "WATCH",
        text: "Nitrite stays above what your kit can show for 17 days, likely day 14 to 31.",
        value: 17,
        unit: "d",
        advice: "This is normal. Do not dose more while it is there.",
      },
      {
        id: "ready",
        topic: "cycle",
        level: "info",
        consequence: "none",
        likelihood: "planned",
        word: "READY",
        text: "Ready between day 29 and day 44, likely day 35, for up to 7.7 g of food a day.",
        value: 35,
        unit: "d",
      },
      {
        id: "cut",
        topic: "power cut",
        level: "info",
        consequence: "none",
        likelihood: "planned",
        word: "HOLDS",
        text: "When the power goes, the water stays in the sump with 123 mm (4 13/16 in) to spare.",
        value: 123,
        unit: "mm",
      },
    ],
    hydraulics: {
      running: {
        pumpFlowM3PerS: 8e-4,
        turnoverPerHour: 7.6,
        levels: [
          { vessel: "display:display", z: 1.393, belowRimM: 0.037 },
          { vessel: "chamber:return", z: 0.22, belowRimM: 0.18 },
        ],
        headBudget: [
          { part: "lift from sump to display", headM: 1.17 },
          { part: "riser, straight pipe", headM: 0.31 },
          { part: "two bends of 90°", headM: 0.12 },
          { part: "nozzle", headM: 0.2 },
        ],
        drainInHandShare: 0.35,
      },
      stories: [
        fixtureStory("plain", "Power cut and restart, nothing else wrong", [], 0.015, 0.057),
        fixtureStory("hole", "Power cut with the siphon-break hole blocked", ["break hole blocked"], 0.06, 0.157),
        fixtureStory("pair", "Siphon-break hole blocked and sump overfilled", ["break hole blocked", "overfilled"], 0.06, 0.267),
      ],
      faults: [
        { id: "break hole blocked", name: "Snail or salt in the siphon-break hole", ordinary: 3 },
        { id: "overfilled", name: "Sump filled to 330 mm", ordinary: 3 },
        { id: "drain half blocked", name: "Drain half blocked", ordinary: 2 },
      ],
      matrix: [
        {
          a: "break hole blocked",
          b: "break hole blocked",
          verdict: "TIGHT",
          marginM: 0.023,
          floorM3: 0,
          floorAfterS: null,
          level: "watch",
        },
        { a: "overfilled", b: "overfilled", verdict: "TIGHT", marginM: 0.013, floorM3: 0, floorAfterS: null, level: "watch" },
        {
          a: "drain half blocked",
          b: "drain half blocked",
          verdict: "HOLDS",
          marginM: 0.12,
          floorM3: 0,
          floorAfterS: null,
          level: "info",
        },
        {
          a: "break hole blocked",
          b: "overfilled",
          verdict: "FLOODS",
          marginM: 0,
          floorM3: 0.024,
          floorAfterS: 41,
          level: "watch",
        },
        {
          a: "break hole blocked",
          b: "drain half blocked",
          verdict: "TIGHT",
          marginM: 0.02,
          floorM3: 0,
          floorAfterS: null,
          level: "watch",
        },
        {
          a: "drain half blocked",
          b: "overfilled",
          verdict: "TIGHT",
          marginM: 0.013,
          floorM3: 0,
          floorAfterS: null,
          level: "watch",
        },
      ],
      marks: {
        maxRunningTrustedM: 0.318,
        maxRunningUntrustedM: 0.218,
        minRunningM: 0.12,
        offLevelM: 0.277,
        runningM: 0.22,
        sumpRimM: 0.4,
        fuses: [
          { display: "display", outcome: "runs dry", aboveIntakeM3: 0.0154, headroomM3: 0.0222, floorM3: 0, firstSpillS: null },
        ],
      },
      remedies: [
        { what: "lower the running level", value: 0.218, unit: "m", ease: 1, verdict: "HOLDS", marginM: 0.04, floorM3: 0 },
        { what: "raise the nozzle tip", value: 0.02, unit: "m", ease: 2, verdict: "FLOODS", marginM: 0, floorM3: 0.004 },
      ],
      checks: [
        {
          name: "Turnover through the sump",
          rule: "3 to 7 an hour",
          value: 7.6,
          unit: "1/h",
          ok: false,
          source: "common practice",
        },
        { name: "Drain capacity in hand", rule: "25 % or more", value: 0.35, unit: "share", ok: true, source: "common practice" },
      ],
      fit: [
        { part: "sump through the door", ok: true, spareM: 0.12, note: "with the display in place" },
        { part: "hand room", ok: false, spareM: -0.03, note: "" },
      ],
      load: {
        parts: [
          { part: "water", kg: 360 },
          { part: "glass", kg: 95 },
          { part: "stand", kg: 60 },
        ],
        totalKg: 515,
        kPa: 8.4,
        lbPerFt2: 176,
      },
      waterImbalance: 3e-12,
      underFloorM: 0,
    },
    nitrogen: {
      timeDays,
      series: [
        ...species.map(([id, label]) => ({
          id,
          label,
          unit: "g N/m3",
          panel: "nitrogen" as const,
          place: "Display",
          values: row(curves[id]!, 0),
        })),
        ...simple.map(([id, label, unit, panel, f]) => ({
          id,
          label,
          unit,
          panel: panel as "oxygen",
          place: id.startsWith("tower") ? "Tower media" : "Display",
          values: timeDays.map(f),
        })),
      ],
      bands: species.map(([id]) => ({
        series: id,
        low: row(curves[id]!, -6).map((v, i) => Math.min(v, row(curves[id]!, 9)[i] ?? 0)),
        middle: row(curves[id]!, 0),
        high: row(curves[id]!, 9).map((v, i) => Math.max(v, row(curves[id]!, -6)[i] ?? 0)),
        meaning: "90 of 100 seeds we tried lie in here",
      })),
      marks: [
        { day: 0, kind: "dose", label: "first dose to 3 mg/L as NH3" },
        { day: 35, kind: "ready", label: "ready" },
        { day: 36, kind: "water change", label: "change 80 % of the water" },
        { day: 40, kind: "stock", label: "first fish" },
      ],
      cells: [{ id: "display", name: "Display", volumeM3: 0.18 }],
      surfaces: [
        {
          id: "media",
          name: "Tower media",
          cell: "tower",
          areaM2: 3.5,
          wettedAreaM2: 2.4,
          capacityGNPerDay: 0.62,
          loadGNPerDay: 0.3,
        },
        {
          id: "glass",
          name: "Glass and rock",
          cell: "display",
          areaM2: 1.9,
          wettedAreaM2: 1.9,
          capacityGNPerDay: 0.11,
          loadGNPerDay: 0.05,
        },
      ],
      limits: [{ panel: "nitrogen", value: 5, label: "slows nitrifiers, reported by keepers", source: "common practice" }],
      ledger: {
        in: [
          { label: "ammonia dosed", gN: 3.6 },
          { label: "food", gN: 0.4 },
        ],
        out: [
          { label: "water changes", gN: 2.1 },
          { label: "to the air", gN: 0.1 },
        ],
        stored: [
          { label: "nitrate in the water", gN: 1.6 },
          { label: "living film", gN: 0.2 },
        ],
        imbalance: 4e-13,
      },
      inertSolids: { fedG: 0.4, out: [{ label: "pads changed", g: 0.3 }], lyingG: 0.1, imbalance: 0 },
    },
    battery: null,
    aftermath: { testDays: [1, 2, 4], checks: [], doNotRestart: [] },
    readings: [],
    outage: [
      {
        id: "fish",
        name: "Air for the fish",
        amberH: [4, 6],
        redH: [7, 10],
        why: "oxygen falls to 3 mg/L with nothing moving",
        source: "modelling assumption",
      },
      {
        id: "dry",
        name: "Media drying",
        amberH: [6, 12],
        redH: [24, 48],
        why: "tower open, room at 50 % humidity",
        source: "common practice, no published source",
      },
      {
        id: "anoxic",
        name: "Wet media without oxygen",
        amberH: [24, 36],
        redH: [48, 72],
        why: "submerged foam in the heater chamber",
        source: "common practice, no published source",
      },
      {
        id: "cold",
        name: "Cooling",
        amberH: [10, 14],
        redH: null,
        why: "26 °C to 22 °C in a room at 18 °C",
        source: "own heat balance",
      },
    ],
    calendar: [
      { day: 0, title: "Dose ammonia to 3 mg/L as NH3", detail: "Measure the real water volume first." },
      { day: 3, title: "Test ammonia and nitrite", detail: "Expect no change yet." },
      { day: 29, title: "Earliest day it can be ready", detail: "Do the 24 hour test twice." },
      { day: 40, title: "First fish", detail: "Up to 7.7 g of food a day." },
    ],
    sensitivities: [
      { text: "Ten times more seed makes it ready 9 days sooner", input: "seed", effect: -9 },
      { text: "5 °C colder makes it ready 12 days later", input: "temperature", effect: 12 },
    ],
    defaults: [{ key: "water.kh", value: "8 dKH", why: "middling tap water" }],
    warnings: ["The pump curve was guessed from its label."],
    cautions: [
      {
        title: "Electricity and water",
        text: "Residual-current protection on every aquarium circuit; drip loop on every cable; unplug before hands go in.",
      },
      { title: "Floor load", text: "This reports mass and pressure, never a pass. Ask a structural engineer on upper floors." },
    ],
    method: {
      processes: [
        {
          name: "Growth of ammonia oxidisers",
          rate: "mu · TAN/(K + TAN) · O2/(K + O2) · X",
          stoichiometry: [
            { component: "TAN", coefficient: -4.83 },
            { component: "NO2-N", coefficient: 4.76 },
          ],
          source: "Henze et al. 2000",
        },
      ],
      parameters: [
        { symbol: "mu_AOB", meaning: "largest growth rate at 20 °C", value: 0.8, unit: "1/d", source: "Henze et al. 2000" },
      ],
      notes: ["Well mixed cells joined by the flows of the hydraulic model."],
    },
    statistics: { steps: 1520, rejected: 40, derivatives: 12000, hydraulicRuns: 30 },
  };
}
